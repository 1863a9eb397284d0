from __future__ import annotations

from armwright.cli.examples import EXAMPLES, all_examples, examples_of


def test_texts() -> None:
    first, line = examples_of("demo").splitlines()
    assert first == "example:" and line == f"  {'armwright demo':<44}  the ceramics studio, into ./demo-output"
    assert examples_of("changes").startswith("examples:\n  armwright changes cell.toml -o out --parts")
    assert examples_of("nothing of ours") == ""
    assert len([line for line in all_examples().splitlines() if "armwright" in line]) == len(EXAMPLES)
