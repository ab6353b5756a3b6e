"""A sticker in ZPL II, the plain text that many label printers take."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from flueproof.papers.labels.content import Sticker
    from flueproof.papers.labels.sizes import LabelSize

_COMMAND_SIGNS: Final = str.maketrans({"^": "-", "~": "-"})
_CODE_SHARE: Final = 0.62  # of the label's height
_ASPECT: Final = 0.56  # mean width over height of the printer's scalable font


def field_text(text: str) -> str:
    """Return text that is safe in a field: no sign that starts a command, no control sign.

    Source: ZPL II format and control prefixes, from memory.
    """
    return "".join(sign for sign in text.translate(_COMMAND_SIGNS) if sign.isprintable())


def sticker_zpl(sticker: Sticker, size: LabelSize) -> str:
    """Return the sticker as one ZPL II label, UTF-8 (^CI28), in dots of the size's printer.

    Source: ZPL II, from memory; the string was not sent to a printer.
    """
    dots = size.dots_per_mm
    margin, width, height = (round(v * dots) for v in (size.margin_mm, size.width_mm, size.height_mm))
    code_side = round(_CODE_SHARE * height)
    modules = 25 if len(sticker.code) <= 38 else 33
    magnification = max(2, min(10, code_side // modules))
    text_width = width - 2 * margin - magnification * modules - 2 * dots
    lines = ["^XA", "^CI28", f"^PW{width}", f"^LL{height}", "^LH0,0"]
    top = margin
    for text, share in _rows(sticker):
        room = text_width if top + share * height > margin and top < margin + code_side else width - 2 * margin
        tall = min(round(share * height), int(room / (_ASPECT * max(len(text), 1))))
        tall = max(tall, round(1.4 * dots))
        fitting = text[: max(1, int(room / (_ASPECT * tall) + 1e-9))]
        lines.append(f"^FO{margin},{top}^A0N,{tall},{tall}^FD{field_text(fitting)}^FS")
        top += round(share * height * 1.08)
    left = width - margin - magnification * modules
    lines.append(f"^FO{left},{margin}^BQN,2,{magnification}^FDMA,{field_text(sticker.code)}^FS")
    return "\n".join([*lines, "^PQ1", "^XZ", ""])


def _rows(sticker: Sticker) -> list[tuple[str, float]]:
    """Return the lines with their share of the label's height."""
    rows = [(sticker.shop, 0.09), (sticker.serial, 0.24), (f"{sticker.done} {sticker.day}", 0.115)]
    if sticker.due:
        rows.append((f"Due {sticker.due}", 0.115))
    rows.append((sticker.certificate, 0.1))
    rows.append((f"by {sticker.technician}", 0.09))
    if sticker.warning:
        rows.append((sticker.warning, 0.11))
    return rows
