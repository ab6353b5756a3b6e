from datetime import date

import pytest

from flueproof.papers.errors import IssueError
from flueproof.papers.issue import Issue

GOOD = {"number": "FP-2026-0042", "issued_on": date(2026, 11, 4), "signer": "R. Vale"}


def test_a_plain_issue_is_letter_in_us_units_and_claims_nothing():
    issue = Issue(**GOOD)
    assert (issue.paper, issue.units, issue.accredited_claim) == ("letter", "us", None)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"number": "  "}, "number"),
        ({"number": "x" * 41}, "number"),
        ({"number": "FP\n1"}, "number"),
        ({"signer": " "}, "signer"),
        ({"paper": "a5"}, "a5"),
        ({"units": "metric"}, "metric"),
    ],
)
def test_what_no_certificate_may_carry_is_refused(changed, said):
    with pytest.raises(IssueError, match=said):
        Issue(**GOOD | changed)
