"""The command that writes a report: report."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from armwright.cell import load_cycle
from armwright.cli.common import read
from armwright.report import caution_line, question_keys
from armwright.report.pdf import why_no_pdf


def add(command: Any) -> None:
    """Adds the command to the parser."""
    words = (
        "All questions in one page: the answer in five lines, then a section each, with pictures, tables, assumptions, "
        "what is missing and what to mind; as HTML, as PDF, and every table as CSV and xlsx."
    )
    sub = command("report", report, words)
    sub.add_argument("--cycle", type=Path, help="a cycle (.toml): for drives, supply, lives and cycle times")
    sub.add_argument("--questions", help=f"some of {', '.join(question_keys())}, with commas between (all)")
    sub.add_argument(
        "--detail",
        choices=("coarse", "fine"),
        default="coarse",
        help="of maps: minutes at most, or several times as long (%(default)s)",
    )
    sub.add_argument("--title", default="", help="of the report (the question)")
    sub.add_argument("--no-pdf", action="store_true", help="the page and the tables alone")
    sub.add_argument("--store", metavar="FOLDER", help="keeps finished pieces: the same command goes on from them")
    sub.add_argument("-o", "--output", type=Path, default=Path("armwright-output"), help="folder (%(default)s)")
    sub.add_argument("--units", choices=("si", "us"), default="si", help="metric or US units (%(default)s)")
    sub.add_argument("--threads", type=int, help="how many; results do not depend on it")
    sub.add_argument("--quiet", action="store_true", help="no progress bar")


def report(options: argparse.Namespace) -> None:
    """Writes the report, and says where it is."""
    cell = read(options)
    cycle = None if options.cycle is None else load_cycle(options.cycle, cell)
    questions = None if options.questions is None else [word.strip() for word in options.questions.split(",")]
    missing = "" if options.no_pdf else why_no_pdf()
    written = cell.report(
        options.output,
        cycle=cycle,
        questions=questions,
        units=options.units,
        pdf=not (options.no_pdf or missing),
        detail=options.detail,
        title=options.title,
        store=options.store,
        threads=options.threads,
        progress=not options.quiet,
    )
    for path in written:
        print(f"  wrote {path}")
    if missing:
        print(f"No report.pdf: {missing}.")
    print(f"Open {written[0]} in a browser.")
    print(caution_line())
