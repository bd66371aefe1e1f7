"""Running the command line in this process, and what it printed."""

from __future__ import annotations

import contextlib
import io
import json
from typing import NoReturn

from attrs import frozen

from wellset.cli import main
from wellset.reports.contract import AssessmentDocument, MeasuredValue


@frozen(kw_only=True)
class Ran:
    """A finished run."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> AssessmentDocument:
        """Standard output as the published JSON document, and nothing else."""
        json.loads(self.out, parse_constant=_no_number)
        return AssessmentDocument.model_validate_json(self.out)

    def value(self, measure: str) -> MeasuredValue:
        """One measure of the document."""
        found = self.document.measures[measure]
        assert isinstance(found, MeasuredValue), found
        return found


def _no_number(word: str) -> NoReturn:
    raise AssertionError(f"{word} is no JSON")


def run(*arguments: object) -> Ran:
    """Run ``wellset`` with these arguments."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as end:  # how the parser of options ends
            code = int(end.code or 0)
    return Ran(code=code, out=out.getvalue(), err=err.getvalue())
