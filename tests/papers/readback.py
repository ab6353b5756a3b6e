"""Read papers back: their text, their pictures, the codes on them."""

import io

import pikepdf
import pypdfium2
import zxingcpp


def text_of(made):
    document = pypdfium2.PdfDocument(made)
    pages = []
    for page in document:
        textpage = page.get_textpage()
        pages.append(textpage.get_text_range())
        textpage.close()
        page.close()
    document.close()
    return pages


def flat(made):
    """Return all text with every blank removed and typographic joins undone: wrapping must not matter."""
    joined = "".join("".join(text_of(made)).split())
    return (
        joined.replace("\u200b", "").replace("\ufffe", "").replace("ﬁ", "fi").replace("ﬂ", "fl").replace("\u00ad", "")
    )


def picture_of(made, dpi=200, page=0):
    document = pypdfium2.PdfDocument(made)
    image = document[page].render(scale=dpi / 72).to_pil()
    document.close()
    return image


def codes_of(made, dpi=200):
    return [found.text for found in zxingcpp.read_barcodes(picture_of(made, dpi).convert("L"))]


def sizes_mm(made):
    document = pypdfium2.PdfDocument(made)
    sizes = [tuple(round(side * 25.4 / 72, 1) for side in page.get_size()) for page in document]
    document.close()
    return sizes


def opened(made):
    return pikepdf.open(io.BytesIO(made))
