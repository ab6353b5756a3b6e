"""Certificate as PDF: our route against an HTML route with WeasyPrint, same text, same pictures, same two pages.

    python benchmarks/certificate.py [--repeats 15]

The peer gets an environment of its own in a temporary folder, outside this tree, and is asked for a PDF only; both
sides start from the same ready content and are warm. The signer's name changes in each run, so that nothing is reused.
"""

from __future__ import annotations

import argparse
import datetime as dt
import html
import importlib.util
import json
import statistics
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

import font_source_sans_pro
import pypdfium2

from flueproof.papers.certificate_content import certificate_content
from flueproof.papers.issue import Issue
from flueproof.papers.typesetting import typeset

ROOT = Path(__file__).resolve().parent.parent
PEER = """
import json, statistics, sys, time
from weasyprint import HTML
from weasyprint.text.fonts import FontConfiguration
given = json.load(open(sys.argv[1]))
fonts = FontConfiguration()
times = []
for turn in range(given["repeats"] + 1):
    page = given["html"].replace("@@SIGNER@@", f"R. Vale {turn}")
    began = time.perf_counter()
    made = HTML(string=page).write_pdf(font_config=fonts, pdf_variant="pdf/a-3b")
    times.append(time.perf_counter() - began)
open(sys.argv[2], "wb").write(made)
print(json.dumps(times[1:]))
"""
STYLE = """
@page { size: A4; margin: 21mm 20mm 18mm; @top-right { content: "page " counter(page) " of " counter(pages) }
  @top-left { content: string(running) } }
@font-face { font-family: Bench; src: url(FOLDER/SourceSansPro-Regular.otf) }
@font-face { font-family: Bench; font-weight: 600; src: url(FOLDER/SourceSansPro-Semibold.otf) }
body { font: 9pt/1.12 FACE; font-variant-numeric: tabular-nums; margin: 0 }
.running { string-set: running content(); display: block; height: 0; overflow: hidden }
h1 { font-size: 18pt; margin: 4mm 0 1mm } h2 { font-size: 10.5pt; margin: 2mm 0 0.5mm }
table { border-collapse: collapse; width: 100%; font-size: 8.5pt }
td, th { text-align: left; padding: 1pt 3pt; font-weight: 400; vertical-align: top }
th { border-bottom: 0.5pt solid #888 }
.pair { display: flex; gap: 8mm } .pair > div { flex: 1 } svg { width: 100% } .key svg { width: auto }
p { margin: 0.6mm 0 } .quiet { font-size: 8pt }
"""


def table(header, rows):
    head = "".join(f"<th>{html.escape(cell)}</th>" for cell in header)
    body = "".join("<tr>" + "".join(f"<td>{html.escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def result_rows(results):
    for group in results["groups"]:
        yield [f"{group['quantity']} in {group['unit']}"]
        for row in group["rows"]:
            cells = [row["place"], row["reference"]["t"]]
            for phase in ("found", "left"):
                block = row[phase]
                cells += [block[key]["t"] for key in ("reading", "error", "U", "limit")] + [block["word"]]
            yield cells


def drawings(column):
    return "".join(f"{drawn['svg']}<p class=quiet>{html.escape(drawn['caption'])}</p>" for drawn in column)


def facts(entries):
    return "".join(
        f"<tr><td>{html.escape(f['name'])}</td><td>{'<br>'.join(map(html.escape, f['lines']))}</td></tr>"
        for f in entries
    )


def paragraphs(*texts):
    return "".join(f"<p>{html.escape(text)}</p>" for text in texts if text)


def listing(title, header, rows, keys):
    return f"<h2>{title}</h2>" + table(header, ([row[key] for key in keys] for row in rows))


def head_of(content):
    columns = "".join(
        f"<div><table>{facts(part)}</table></div>" for part in (content["facts"][:5], content["facts"][5:])
    )
    return [
        f"<span class=running>{html.escape(content['running'])}</span><b>{html.escape(content['shop']['name'])}</b>",
        paragraphs(", ".join(content["shop"]["address"]), content["number"]),
        f"<h1>{html.escape(content['title'])}</h1>",
        paragraphs(content["headline"]),
        paragraphs(" ".join(told["lines"] + [told["meaning"]])) if (told := content["found"]) else "",
        f"<div class=pair>{columns}</div>",
    ]


def results_of(content):
    heads = ["Test point", "Reference", *["Reading", "Error", "U", "Limit", "Statement"] * 2]
    columns = "".join(f"<div>{drawings(column)}</div>" for column in content["pictures"])
    return [
        "<h2>Results</h2>",
        table(heads, result_rows(content["results"])),
        paragraphs(content["words"]["uncertainty"]),
        f"<h2>Errors against the limits</h2><div class=pair>{columns}</div>",
        f"<div class=key>{content['key']['svg']}</div>",
        "<h2>Not tested</h2>",
        paragraphs(*content["not_tested"]),
        "<h2>Work</h2>",
        paragraphs(*content["work"]),
    ]


def tables_of(content):
    words = content["words"]
    budget = ("point", "parts", "u", "dof", "k", "U")
    kept = ("letter", "what", "value", "certificate", "until")
    return [
        listing("Checks", ("Check", "Phase", "Seen", "Result"), content["checks"], ("what", "phase", "text", "result")),
        listing("Where the uncertainty comes from", budget, content["budget"], budget),
        listing(
            "Limits",
            ("Quantity", "Limit", "Phase", "Source"),
            content["limits"],
            ("quantity", "limit", "phases", "source"),
        ),
        paragraphs(content["rule"] + words["unrounded"] + words["joint"] + words["close"]),
        listing("References", ("", "Reference", "Value", "Certificate", "Valid until"), content["references"], kept),
        paragraphs(words["traceability"], "; ".join(f"{row['name']} {row['value']}" for row in content["room"])),
        "<h2>Notes</h2>",
        paragraphs(*content["notes"], words["only"], words["owner"], *words["cautions"]),
        "<p>@@SIGNER@@, authorized to release this certificate</p>",
        paragraphs(content["signed"], content["end"]),
    ]


def page_of(content, face="Bench"):
    style = STYLE.replace("FOLDER", Path(font_source_sans_pro.font_directory).as_uri()).replace("FACE", face)
    if face != "Bench":
        style = "\n".join(line for line in style.splitlines() if not line.startswith("@font-face"))
    body = "".join([*head_of(content), *results_of(content), *tables_of(content)])
    title = html.escape(content["title"])
    head = f"<head><title>{title}</title><style>{style}</style></head>"
    return f"<!doctype html><html lang=en>{head}<body>{body}</body></html>"


def peer_times(pages, repeats, folder):
    environment = folder / "peer"
    venv.EnvBuilder(with_pip=True).create(environment)
    python = environment / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    subprocess.run([python, "-m", "pip", "install", "-q", "--disable-pip-version-check", "weasyprint"], check=True)
    (folder / "peer.py").write_text(PEER)
    return [peer_run(python, page, repeats, folder) for page in pages]


def peer_run(python, page, repeats, folder):
    (folder / "given.json").write_text(json.dumps({"html": page, "repeats": repeats}))
    out = folder / "peer.pdf"
    ran = subprocess.run(
        [python, folder / "peer.py", folder / "given.json", out], check=True, capture_output=True, text=True
    )
    return json.loads(ran.stdout.splitlines()[-1]), out.read_bytes()


def own_times(content, repeats):
    times = []
    for turn in range(repeats + 1):
        changed = content | {"signer": f"R. Vale {turn}"}
        began = time.perf_counter()
        made = typeset("certificate.typ", changed)
        times.append(time.perf_counter() - began)
    return times[1:], made


def sample_content():
    where = ROOT / "tests" / "papers" / "sample.py"
    spec = importlib.util.spec_from_file_location("sample", where)
    sample = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(sample)
    issue = Issue("FP-2026-0042", dt.date(2026, 11, 4), "R. Vale", paper="a4")
    return certificate_content(sample.record_of(), sample.profile_of(), sample.judgement_of(), issue)


def main():
    wanted = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    wanted.add_argument("--repeats", type=int, default=15)
    wanted.add_argument("--keep", type=Path, help="folder to leave both PDFs in")
    repeats = (given := wanted.parse_args()).repeats
    content = sample_content()
    with tempfile.TemporaryDirectory() as folder:
        peers = peer_times([page_of(content), page_of(content, "sans-serif")], repeats, Path(folder))
    own, own_pdf = own_times(content, repeats)
    print(f"{'route':<26}{'median ms':>10}{'min ms':>9}{'kB':>7}{'pages':>7}")
    names = ("Flueproof (typst)", "HTML (WeasyPrint)", "  the same, system faces")
    for name, (times, made) in zip(names, [(own, own_pdf), *peers], strict=True):
        pages = len(pypdfium2.PdfDocument(made))
        median, least = 1e3 * statistics.median(times), 1e3 * min(times)
        print(f"{name:<26}{median:>10.1f}{least:>9.1f}{len(made) / 1e3:>7.0f}{pages:>7}")
    fastest = min(statistics.median(times) for times, _ in peers)
    print(f"ratio of medians: {fastest / statistics.median(own):.1f} times faster than the faster of both (goal 10)")
    if given.keep:
        (given.keep / "own.pdf").write_bytes(own_pdf)
        (given.keep / "peer.pdf").write_bytes(peers[0][1])


if __name__ == "__main__":
    main()
