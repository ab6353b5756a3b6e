"""What a list can hold of owners and analyzers, and by which words over a column it is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

OWNER, CONTACT, ADDRESS, ANALYZER, DUE = "owner", "contact", "address", "analyzer", "due"
GROUPS: Final = {
    OWNER: "Owner",
    CONTACT: "Person of the owner",
    ADDRESS: "Address of the owner",
    ANALYZER: "Analyzer",
    DUE: "What is due",
}
TEXT, SERIAL, DAY, MONTHS, YES_NO, MAIL = "text", "serial", "day", "months", "yes-no", "mail"


@dataclass(frozen=True, slots=True)
class Field:
    """One thing a column can be.

    group: to what it belongs; way: how its text is read; longest: most signs; words: what may stand over the column,
    lower case without signs, the surest first.
    """

    name: str
    label: str
    group: str
    words: tuple[str, ...]
    way: str = TEXT
    longest: int = 2000


# common practice, no source: words that people write over such columns
FIELDS: Final[tuple[Field, ...]] = (
    Field("owner_name", "Name of the firm", OWNER, (
        "owner", "owner name", "customer name", "customer", "firm", "company", "company name", "client", "client name",
        "contractor", "account name", "account", "sold to", "bill to", "business name", "organization", "name"),
        longest=200),
    Field("owner_number", "Customer number", OWNER, (
        "customer number", "customer no", "customer id", "cust no", "cust id", "customer code", "account number",
        "account no", "account id", "owner number", "owner no", "client number", "client no", "client id"), longest=40),
    Field("due_agreed", "Wants a due date on papers (yes or no)", OWNER, (
        "due date wanted", "due agreed", "wants due date", "due date on papers"), YES_NO),
    Field("owner_note", "Note on the owner", OWNER, (
        "owner note", "customer note", "customer notes", "owner notes", "account notes")),
    Field("contact_name", "Name of the person", CONTACT, (
        "contact", "contact name", "contact person", "attention", "attn", "person", "primary contact", "full name"),
        longest=120),
    Field("contact_phone", "Phone", CONTACT, (
        "phone", "telephone", "phone number", "tel", "contact phone", "mobile", "cell phone", "main phone",
        "work phone", "telephone number"), longest=40),
    Field("contact_email", "E-mail", CONTACT, (
        "email", "e mail", "email address", "e mail address", "contact email", "mail", "main email"), MAIL, 254),
    Field("contact_duty", "What the person is for", CONTACT, (
        "duty", "role", "title", "job title", "position", "department"), longest=80),
    Field("address_label", "What the address is for", ADDRESS, (
        "address for", "address type", "address label", "address name"), longest=60),
    Field("address_lines", "Street", ADDRESS, (
        "street", "address", "street address", "address 1", "address line 1", "address1", "addr1", "address line",
        "ship to address", "bill to address", "address lines")),
    Field("address_more", "Street, second line", ADDRESS, (
        "address 2", "address line 2", "address2", "addr2", "suite", "unit", "street 2")),
    Field("town", "Town", ADDRESS, ("town", "city", "place", "ship to city"), longest=80),
    Field("region", "State or region", ADDRESS, ("state", "region", "province", "county", "st"), longest=80),
    Field("postcode", "ZIP or postcode", ADDRESS, (
        "zip", "zip code", "postcode", "postal code", "post code", "zipcode", "zip postal code"), longest=20),
    Field("country", "Country", ADDRESS, ("country", "nation"), longest=60),
    Field("make", "Make", ANALYZER, (
        "make", "maker", "manufacturer", "brand", "mfr", "mfg", "vendor"), longest=80),
    Field("model", "Model", ANALYZER, (
        "model", "model name", "model number", "model no", "type", "analyzer", "analyzer model", "instrument",
        "instrument type", "unit type", "device", "equipment"), longest=80),
    Field("serial", "Serial number", ANALYZER, (
        "serial", "serial number", "serial no", "serial num", "s n", "sn", "ser no", "serialnumber", "unit serial",
        "analyzer serial", "instrument serial", "serial nr"), SERIAL, 60),
    Field("firmware", "Firmware", ANALYZER, ("firmware", "firmware version", "software version", "fw"), longest=40),
    Field("profile", "Service rules (name of a profile)", ANALYZER, ("profile", "service rules"), longest=80),
    Field("analyzer_note", "Note on the analyzer", ANALYZER, (
        "note", "notes", "analyzer note", "remarks", "remark", "comment", "comments", "unit notes")),
    Field("last_done", "Last verified on", DUE, (
        "last verified", "last verification", "last calibration", "last calibrated", "last cal", "calibration date",
        "cal date", "date calibrated", "last service", "last serviced", "last service date", "last done",
        "last calibration date", "service date", "last check", "last checked"), DAY),
    Field("next_due", "Due next on", DUE, (
        "next due", "due", "due date", "next calibration", "calibration due", "cal due", "next calibration date",
        "calibration due date", "cal due date", "due next", "next verification", "next service", "verification due"),
        DAY),
    Field("months", "Months between checks", DUE, (
        "months", "interval", "interval months", "cal interval", "calibration interval", "months between checks"),
        MONTHS),
    Field("agreed_by", "Who agreed to the due date", DUE, ("agreed by", "agreed with", "due agreed by"), longest=120),
)  # fmt: skip
BY_NAME: Final = {field.name: field for field in FIELDS}
