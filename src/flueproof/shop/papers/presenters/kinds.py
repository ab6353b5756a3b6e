"""What papers, files and outcomes are called."""

from __future__ import annotations

from typing import Final

from flueproof.shop.records.models import Analyzer, Paper

KINDS: Final = {"certificate": "Certificate", "bench-report": "Bench report"}
OUTCOMES: Final = {
    "ready-to-sign": "inside limits",
    "outside-as-ordered": "outside limits, as ordered",
    "limited": "limited",
    "work-needed": "work needed",
    "incomplete": "incomplete",
    "not-worth-repair": "not worth repair",
    "beyond-our-access": "beyond our access",
}
FILES: Final = {
    "certificate.pdf": "Certificate",
    "bench-report.pdf": "Bench report",
    "sticker.pdf": "Sticker, as a page of its own size",
    "sticker.zpl": "Sticker, for a label printer",
    "tag.pdf": "Do-not-use tag",
    "judgement.json": "Judgement, for programs",
    "record.json": "Bench record, for programs",
    "issue.json": "Cover: who issued what, and the hash of every file",
}


def called(paper: Paper) -> str:
    """Return kind and outcome: "Certificate, inside limits"."""
    return f"{KINDS.get(paper.kind, paper.kind)}, {OUTCOMES.get(paper.outcome, paper.outcome)}"


def item_of(analyzer: Analyzer) -> str:
    """Return make and model, the make once where the model's name begins with it."""
    return analyzer.model if analyzer.model.startswith(analyzer.make) else f"{analyzer.make} {analyzer.model}"


def size_text(size: int) -> str:
    """Return a file's size [byte] in words."""
    return f"{size} bytes" if size < 1000 else f"{size / 1000:.0f} kB"
