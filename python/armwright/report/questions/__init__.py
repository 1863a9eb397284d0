"""The questions that a report answers, in the order in which a builder asks them."""

from armwright.report.questions.certainty import CERTAINTY
from armwright.report.questions.changes import CHANGES
from armwright.report.questions.failure import FAILURE
from armwright.report.questions.guarding import GUARDING
from armwright.report.questions.hold import HOLD
from armwright.report.questions.lifting import LIFTING
from armwright.report.questions.moves import MOVES
from armwright.report.questions.others import OTHERS
from armwright.report.questions.parts import PARTS
from armwright.report.questions.place import PLACE
from armwright.report.questions.reach import REACH
from armwright.report.questions.speed import SPEED
from armwright.report.questions.supply import SUPPLY
from armwright.report.questions.track import TRACK
from armwright.report.questions.truth import TRUTH

QUESTIONS = (
    REACH,
    HOLD,
    SPEED,
    MOVES,
    SUPPLY,
    FAILURE,
    PARTS,
    TRUTH,
    LIFTING,
    GUARDING,
    TRACK,
    PLACE,
    CHANGES,
    CERTAINTY,
    OTHERS,
)

__all__ = ["QUESTIONS"]
