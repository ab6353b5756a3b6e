"""The sticker's QR code as a drawing."""

from __future__ import annotations

from flueproof.pictures.svg import document, element

QUIET_ZONE = 4


def code_drawing(text: str) -> str:
    """Return the QR code (level M) of a text as SVG, quiet zone of four modules included; one module is 1 pt.

    Source: ISO/IEC 18004 (quiet zone of four modules), from memory.
    """
    import segno  # noqa: PLC0415 - only where a sticker is made

    matrix = segno.make_qr(text, error="m", boost_error=False).matrix
    side = len(matrix) + 2 * QUIET_ZONE
    path = "".join(
        f"M{column + QUIET_ZONE} {row + QUIET_ZONE}h{width}v1h-{width}z"
        for row, line in enumerate(matrix)
        for column, width in _runs(line)
    )
    ground = element("rect", width=side, height=side, fill="#ffffff")
    body = ground + element("path", d=path, fill="#000000", shape_rendering="crispEdges")
    return document(body, side, side, title="Code", description=text)


def _runs(line: bytes | bytearray | tuple[int, ...]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for column, dark in enumerate(line):
        if dark and runs and runs[-1][0] + runs[-1][1] == column:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((column, 1))
    return runs
