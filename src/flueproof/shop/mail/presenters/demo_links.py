"""The links of a letter, open to everybody in the house: in the demo only, where nobody reads the e-mails."""

from __future__ import annotations

import re
from typing import Final

from flueproof.shop.records.mailing.seals import unseal

_LINK: Final = re.compile(r"https?://[^/\s]+(/\S*~sealed\S*)")


def demo_links(text: str) -> list[str]:
    """Return the paths of the sealed links of a letter's text, unsealed, each once."""
    return [unseal(path) for path in dict.fromkeys(_LINK.findall(text))]
