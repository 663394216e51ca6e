"""The letters of the PDF: DejaVu where the system has it (Cyrillic, Greek and more), else what reportlab brings."""

from functools import cache
from pathlib import Path

PLAIN, BOLD = "Report", "ReportBold"
FOLDER = Path("/usr/share/fonts/truetype/dejavu")


@cache
def register() -> None:
    """Make the fonts known, once a process."""
    import reportlab
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    brought = Path(reportlab.__file__).parent / "fonts"
    for name, wanted, other in (
        (PLAIN, "DejaVuSans.ttf", "Vera.ttf"),
        (BOLD, "DejaVuSans-Bold.ttf", "VeraBd.ttf"),
    ):
        there = FOLDER / wanted
        pdfmetrics.registerFont(TTFont(name, str(there if there.is_file() else brought / other)))
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)
