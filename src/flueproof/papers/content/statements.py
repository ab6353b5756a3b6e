"""The fixed sentences of a certificate, in our own words."""

from __future__ import annotations

from typing import Final

ONLY_THIS_ITEM: Final = (
    "The results relate only to the item tested, at the points tested and on the days of the work. Copy this paper "
    "only whole."
)
UNCERTAINTY: Final = (
    "U is the expanded uncertainty of the error: the combined standard uncertainty u times the coverage factor k, "
    "for a coverage of about 95.45 %. It describes this test; it is not a tolerance for use."
)
TRACEABILITY: Final = (
    "The results are traceable to the SI through the certificates listed, as far as these certificates state it, by "
    "comparison under the method."
)
STATED_ONLY: Final = " An accuracy that is only stated, without an uncertainty, carries no more than that statement."
UNROUNDED: Final = "Statements are made on unrounded values; U is printed to two digits, the results to the same place."
OWNER_MARK: Final = "\u2020 From the owner, not verified by the shop."
TOO_CLOSE: Final = (
    "\u201cToo close to call\u201d: the uncertainty does not allow either statement under the agreed rule. A repeat, a "
    "reference with a smaller uncertainty, or another rule agreed with the owner can settle it."
)
READS_LOW: Final = " CO reads too low or not at all: do not measure with this analyzer."
LOOK_BACK: Final = "Readings taken since its last good check can be off by as much."
LOOK_BACK_CO: Final = " Look again at those jobs, first where CO was near an action value."
NOT_FOUND: Final = "Nothing can be said of readings taken before this work."
JOINT_BASIS: Final = " (shared references counted as shared; nothing assumed of the unit beforehand)."
POPULATION: Final = (
    "Over all units, with the share inside limits that earlier visits found: at any one point at most {accept} are "
    "outside and called conforming, at most {reject} are inside and not called conforming."
)
IN_PARENTHESES: Final = (
    "Statements in parentheses: points for information only, not part of the statement of conformity."
)
TWO_REFERENCES: Final = "Two references in one line: as found / as left."
OLD_PAPER: Final = "Do not use the old paper and its sticker any longer."
NOTHING_ELSE_CHANGED: Final = "Results and statements are as before."
NOT_ACCREDITED: Final = "An accredited certificate was ordered; this paper is not one."
CAUTIONS: Final = (
    (
        "Carbon monoxide can kill. An analyzer can drift or fail after this date: zero it in clean outdoor air and "
        "check it on test gas whenever a reading is in doubt, and never work without a CO alarm of your own."
    ),
    "Test gas is a compressed and partly toxic gas: use it in moving air, secure the cylinder, wear eye protection.",
    (
        "Local codes, the appliance maker's instructions and the judgement of a licensed technician come before any "
        "reading."
    ),
)
REPORT_WARNING: Final = (
    "This is not a certificate. It records work at the bench and states no conformity of the analyzer as a whole. "
    "Do not use it as proof of verification."
)
