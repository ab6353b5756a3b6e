"""Draw the picture of a certificate that the first page shows: page 1 of the demo visit "adjusted", as PNG.

Run `.venv/bin/python scripts/certificate_picture.py` after a change of the certificate's looks; it needs what
dev.lock lists. The same code and demo give the same picture.
"""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import pypdfium2
from PIL import Image

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import read_record
from flueproof.papers.certificate import certificate_pdf
from flueproof.papers.issue import Issue
from flueproof.simulate.demo import demo_records

VISIT = "adjusted"
TARGET = Path(__file__).resolve().parent.parent / "docs" / "images" / "certificate.png"
WIDTH_PX = 1000
COLORS = 255


def main() -> None:
    """Judge the visit, set its certificate and render the first page."""
    (visit,) = [demo for demo in demo_records() if demo.name == VISIT]
    record = read_record(json.dumps(visit.record).encode("utf-8"), VISIT)
    profile = shipped_profile(record.analyzer.profile.name)
    judgement = judge_record(record, profile)
    day = max(step.at for step in record.steps).date()
    pdf = certificate_pdf(
        record, profile, judgement, Issue("DEMO-0001", day + dt.timedelta(days=1), "R. Vale (invented)")
    )
    page = pypdfium2.PdfDocument(pdf)[0]
    picture = page.render(scale=2 * WIDTH_PX / page.get_width()).to_pil()
    picture = picture.resize((WIDTH_PX, round(WIDTH_PX * picture.height / picture.width)), Image.Resampling.LANCZOS)
    TARGET.parent.mkdir(parents=True, exist_ok=True)
    picture.convert("RGB").quantize(COLORS, method=Image.Quantize.FASTOCTREE).save(TARGET, optimize=True)
    print(f"{TARGET.relative_to(TARGET.parent.parent.parent)}: {TARGET.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main()
