"""The paper that stands behind a test gas: one cylinder's own certificate, or one for a whole lot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from flueproof.testgas.errors import BlendError


@dataclass(frozen=True, slots=True)
class GasCertificate:
    """Certificate of a cylinder or of a lot.

    number: of the certificate; cylinder: its stamped number; lot: the lot's number, None when the cylinder was
    analyzed itself; certified, expires: dates, None when the paper does not say; supplier: who issued it.
    """

    number: str
    certified: date | None
    expires: date | None
    cylinder: str | None = None
    lot: str | None = None
    supplier: str | None = None
    of_lot: bool = False

    def __post_init__(self) -> None:
        if self.certified is not None and self.expires is not None and self.expires < self.certified:
            raise BlendError(
                f"certificate {self.number}: expires {self.expires.isoformat()}, before it was certified "
                f"({self.certified.isoformat()}). Read both dates again."
            )
        if self.of_lot and not self.lot:
            raise BlendError(f"certificate {self.number} is for a lot but names none. Enter the lot number.")

    def in_words(self) -> str:
        """Return the certificate as a paper names it.

        A lot certificate says that the value is the lot's: each can of it shares one error, and a second can of the
        lot is no second witness.
        Source: common practice, no source.
        """
        if self.of_lot:
            return f"lot certificate {self.number}, lot {self.lot} (value of the lot, this container not analyzed)"
        cylinder = f", cylinder {self.cylinder}" if self.cylinder else ""
        return f"certificate {self.number}{cylinder}"

    def common_cause(self) -> str:
        """Return the tag of the error that gases under this paper share: the lot's, else the cylinder's.

        Source: common practice, no source (correlation by common cause: JCGM 100:2008, F.1.2.3).
        """
        return f"lot {self.lot}" if self.of_lot else f"cylinder {self.cylinder or self.number}"
