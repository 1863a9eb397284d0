"""What else was looked at: results that answer none of the other questions by themselves."""

from __future__ import annotations

from armwright import pictures
from armwright.report.document import Picture
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.results.summary import summary_lines

STUDIES = ("sweep", "clearance", "setpoints")
_NAMES = {"sweep": "Many designs", "clearance": "Clearance in single postures", "setpoints": "Setpoints"}


def _tell(found: Found) -> Told:
    told = []
    drawn: list[Picture] = []
    for result in found.those(*STUDIES):
        study = str(result.attrs["study"])
        first, *rest = summary_lines(result)
        told += [f"{_NAMES[study]}: {first}.", *(f"{line[0].upper()}{line[1:]}." for line in map(str.strip, rest))]
        if study == "sweep" and "value" in result:
            drawn.append(picture(pictures.sweep(result, units=found.units), "sweep", "The answers of the designs"))
    return Told(told[0], None, told[1:], drawn)


OTHERS = Question("others", "What else was looked at?", STUDIES, _tell)
