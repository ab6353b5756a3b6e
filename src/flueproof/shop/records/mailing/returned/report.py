"""A delivery report as a mail server sends it (RFC 3464 in a multipart/report of RFC 6522), read as plain values.

Whoever writes to the shop's mailbox may have written it: nothing of it is believed but the Message-ID of a letter of
ours, which only the shop and the one who got the letter know.
"""

from __future__ import annotations

import email
import re
from collections.abc import Iterator
from dataclasses import dataclass
from email.message import Message
from typing import Final

from flueproof.shop.records.mailing.words import one_line

FAILED, DELAYED = "failed", "delayed"
LARGEST: Final = 10 * 2**20
_MESSAGE_ID: Final = re.compile(r"<[^<>\s]{3,198}>")
_LONGEST_WORDS: Final = 400
_MOST_PARTS: Final = 200


class ReportError(ValueError):
    """A message that cannot be read as a report; the message says why."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one recipient.

    action: "failed", "delayed", "delivered", "relayed" or "expanded"; status: such as "5.1.1", "" where none is told;
    words: what the last mail server said, on one line.
    """

    recipient: str
    action: str
    status: str
    words: str


@dataclass(frozen=True, slots=True)
class Report:
    """A report: what became of whom, and the Message-IDs of the e-mail that it is about, the likeliest first."""

    outcomes: tuple[Outcome, ...]
    message_ids: tuple[str, ...]

    @property
    def failed(self) -> Outcome | None:
        """The first recipient whom it did not reach and will not, None where there is none."""
        return next((one for one in self.outcomes if one.action == FAILED), None)


def read_report(raw: bytes) -> Report | None:
    """Return the report that a message holds, None for any other e-mail, such as an answer of a person.

    Raises: ReportError for no message at all, or one that is larger than any report.
    Source: RFC 3464, 2.1 to 2.3; RFC 6522, 3.
    """
    if not raw.strip():
        raise ReportError("there is no message")
    if len(raw) > LARGEST:
        raise ReportError(f"the message has {len(raw) / 2**20:.0f} MB; a report has at most {LARGEST // 2**20}")
    try:
        message = email.message_from_bytes(raw)
        parts = list(_parts(message))
    except RecursionError:
        raise ReportError("the message is nested deeper than any report") from None
    told = [part for part in parts if part.get_content_type() == "message/delivery-status"]
    outcomes = tuple(one for part in told for one in _outcomes(part))
    return Report(outcomes, tuple(dict.fromkeys(_ids(message, parts)))) if outcomes else None


def _parts(message: Message) -> Iterator[Message]:
    for place, part in enumerate(message.walk()):
        if place >= _MOST_PARTS:
            return
        yield part


def _outcomes(part: Message) -> Iterator[Outcome]:
    """Yield what the blocks of a delivery-status say; the first block is about the message and names nobody."""
    blocks = part.get_payload()
    for block in blocks if isinstance(blocks, list) else []:
        action = _field(block, "Action").partition(" ")[0].casefold()
        if not isinstance(block, Message) or not action:
            continue
        recipient = _value(_field(block, "Original-Recipient")) or _value(_field(block, "Final-Recipient"))
        status = re.match(r"[245]\.\d{1,3}\.\d{1,3}", _field(block, "Status"))
        words = _value(_field(block, "Diagnostic-Code"))
        yield Outcome(recipient[:254], action, status[0] if status else "", words[:_LONGEST_WORDS])


def _ids(message: Message, parts: list[Message]) -> Iterator[str]:
    """Yield the ids of the returned e-mail: from its own head, else from what the report answers to."""
    for part in parts:
        kind = part.get_content_type()
        if kind == "message/rfc822":
            inner = part.get_payload()
            for one in inner if isinstance(inner, list) else []:
                yield from _MESSAGE_ID.findall(_field(one, "Message-ID"))
        elif kind == "text/rfc822-headers":
            yield from _of_head(part)
    for name in ("In-Reply-To", "References"):
        yield from _MESSAGE_ID.findall(_field(message, name))


def _of_head(part: Message) -> Iterator[str]:
    body = part.get_payload(decode=True)
    head = email.message_from_bytes(body if isinstance(body, bytes) else b"")
    yield from _MESSAGE_ID.findall(_field(head, "Message-ID"))


def _field(block: object, name: str) -> str:
    """Return a field on one line, without signs that no database keeps; "" where it is not there."""
    value = block.get(name, "") if isinstance(block, Message) else ""
    return one_line(str(value).encode("utf-8", "replace").decode("utf-8", "replace"))


def _value(field: str) -> str:
    """Return "ada@tidewater.example" of "rfc822; ada@tidewater.example"."""
    kind, semicolon, value = field.partition(";")
    return (value if semicolon else kind).strip()
