"""Printed pages as a scanner and a reader meet them: rasterised, codes read, text extracted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pypdfium2  # type: ignore[import-untyped]  # brings no types of its own
import zxingcpp

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = ["codes_on", "ink_share", "page_count", "page_sizes_mm", "rasterise", "text_of"]


def rasterise(document: bytes, dots_per_inch: int) -> list[Image]:
    """Render every page in black and white, as a printer with dots of one size does."""
    pdf = pypdfium2.PdfDocument(document)
    try:
        return [
            page.render(scale=dots_per_inch / 72, grayscale=True)
            .to_pil()
            .convert("L")
            .point([0] * 128 + [255] * 128)
            for page in pdf
        ]
    finally:
        pdf.close()


def codes_on(image: Image) -> list[str]:
    """Read all QR codes on a page, from their bytes; sorted."""
    found = zxingcpp.read_barcodes(
        image, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    )
    return sorted(code.bytes.decode("utf-8") for code in found if code.valid)


def ink_share(image: Image) -> float:
    """Give the fraction of a page that is darker than middle grey."""
    return sum(image.histogram()[:128]) / (image.width * image.height)


def text_of(document: bytes) -> list[str]:
    """Extract the text of every page, with all white space as single spaces."""
    pdf = pypdfium2.PdfDocument(document)
    try:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pdf]
    finally:
        pdf.close()


def page_count(document: bytes) -> int:
    """Count the pages."""
    return len(text_of(document))


def page_sizes_mm(document: bytes) -> list[tuple[float, float]]:
    """Give the size of every page, to a tenth of a millimetre."""
    pdf = pypdfium2.PdfDocument(document)
    try:
        return [
            (round(page.get_width() * 25.4 / 72, 1), round(page.get_height() * 25.4 / 72, 1))
            for page in pdf
        ]
    finally:
        pdf.close()
