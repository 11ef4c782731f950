"""Certificates as PDF, made for tests; the mill, its customers and all numbers are invented."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence

from reportlab.lib import colors, pdfencrypt
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table

__all__ = [
    "STEEL",
    "STRENGTH",
    "certificate_pdf",
    "encrypted_pdf",
    "lying_pdf",
    "many_pages",
    "picture_pdf",
    "tables_pdf",
    "turned_pdf",
]

STEEL = {"C": "0.08", "Si": "0.02", "Mn": "1.05", "P": "0.061", "S": "0.29", "Pb": "0.27"}
STRENGTH = {"Rm": ["560"], "Rp0.2": ["470"], "A": ["9.5"]}

GRID = [("GRID", (0, 0), (-1, -1), 0.5, colors.black)]


def certificate_pdf(
    heat: str = "48213",
    *,
    kind: str = "3.1",
    grade: str = "11SMnPb30 +C (1.0718)",
    size: str = "8.00 mm h9 x 3000 mm",
    composition: Mapping[str, str] = STEEL,
    strength: Mapping[str, Sequence[str]] = STRENGTH,
) -> bytes:
    """Make a certificate of the usual kind: head, a table of composition, one of strength."""
    styles = getSampleStyleSheet()
    story: list[Flowable] = [
        Paragraph("Torvik Steelworks (invented)", styles["Normal"]),
        Paragraph(f"INSPECTION CERTIFICATE {kind} EN 10204:2004", styles["Title"]),
        Paragraph(f"Heat No.: {heat} &nbsp; Grade: {grade}", styles["Normal"]),
        Paragraph(f"Round bar \u00d8 {size}", styles["Normal"]),
    ]
    if composition:
        rows = [["", *composition], ["max %", *("1.5" for _ in composition)]]
        rows.append([heat, *composition.values()])
        story += [Spacer(1, 12), Table(rows, style=GRID)]
    if strength:
        heads = [f"R<sub>{name[1:]}</sub>" if name[0] == "R" else name for name in strength]
        table = [[Paragraph(head, styles["Normal"]) for head in heads]]
        results = list(map(list, zip(*strength.values(), strict=True)))
        story += [Spacer(1, 12), Table([*table, *results], style=GRID, colWidths=60)]
    paper = io.BytesIO()
    SimpleDocTemplate(paper, invariant=1).build(story)
    return paper.getvalue()


def encrypted_pdf(password: str) -> bytes:
    """Make a document that opens with a password only; "" for one that anybody may read."""
    lock = pdfencrypt.StandardEncryption(password, ownerPassword="owner", canPrint=0)
    paper = io.BytesIO()
    canvas = Canvas(paper, encrypt=lock)
    canvas.drawString(72, 720, "Heat No. 48213")
    canvas.save()
    return paper.getvalue()


def picture_pdf() -> bytes:
    """Make a document as a scanner does: nothing in it that is text."""
    paper = io.BytesIO()
    canvas = Canvas(paper, invariant=1)
    canvas.rect(72, 72, 300, 300, fill=1)
    canvas.save()
    return paper.getvalue()


def many_pages(count: int) -> bytes:
    """Make a document of many pages, each full of text."""
    paper = io.BytesIO()
    canvas = Canvas(paper, pageCompression=1)
    for page in range(count):
        for row in range(60):
            canvas.drawString(10, 10 + row * 12, f"page {page} row {row} " + "word " * 20)
        canvas.showPage()
    canvas.save()
    return paper.getvalue()


def turned_pdf(degrees: int) -> bytes:
    """Make a page that is turned clockwise when it is shown, and its text the other way."""
    paper = io.BytesIO()
    canvas = Canvas(paper, invariant=1)
    canvas.setPageRotation(degrees)
    canvas.translate(300, 400)
    canvas.rotate(degrees)
    for row, text in enumerate(["C        Si       Mn", "0.08     0.02     1.05"]):
        canvas.setFont("Courier", 10)
        canvas.drawString(0, -20 * row, text)
    canvas.save()
    return paper.getvalue()


def tables_pdf(
    head: Sequence[str], *tables: Sequence[Sequence[str]], widths: float | Sequence[float] = 60
) -> bytes:
    """Make a certificate of lines of text and tables whose cells are flush left."""
    styles = getSampleStyleSheet()
    story: list[Flowable] = [Paragraph(line, styles["Normal"]) for line in head]
    for rows in tables:
        columns = [widths] * len(rows[0]) if isinstance(widths, int | float) else widths
        story += [Spacer(1, 12), Table([*map(list, rows)], style=GRID, colWidths=columns)]
    paper = io.BytesIO()
    SimpleDocTemplate(paper, invariant=1).build(story)
    return paper.getvalue()


def lying_pdf(degrees: int, lines: Sequence[str]) -> bytes:
    """Make an upright page whose text lies on its side or stands on its head, as of a scan."""
    paper = io.BytesIO()
    canvas = Canvas(paper, invariant=1)
    canvas.translate(300, 400)
    canvas.rotate(degrees)
    for row, text in enumerate(lines):
        canvas.setFont("Courier", 10)
        canvas.drawString(-200, 100 - 20 * row, text)
    canvas.save()
    return paper.getvalue()
