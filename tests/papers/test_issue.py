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


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"amends": "FP-2026-0041"}, "says why"),
        ({"amended_why": "a wrong serial"}, "names the paper"),
        ({"amends": "FP-2026-0042", "amended_why": "a wrong serial"}, "cannot amend itself"),
    ],
)
def test_an_amended_paper_names_another_one_and_says_why(changed, said):
    with pytest.raises(IssueError, match=said):
        Issue(**GOOD | changed)
