"""The wall sheet: the bays of a plan to print on A3 or A4, a page a quarter.

On the screen a table below the pages has the same in words; it is not printed.
"""

from datetime import date, datetime, timedelta
from html import escape

from capacity.reports.kit.issue import issue_line, now
from capacity.reports.kit.sheet import FOOT_CAUTION
from capacity.reports.plan.drawn_days import drawn_days
from capacity.reports.plan.view import View
from capacity.words import day
from ui.printing.drawing import Drawing
from ui.printing.paper import FOOT_MM, HEAD_MM, MARGIN_MM, Paper
from ui.printing.sheet import document, heading, value_table
from ui.printing.wall_bars import draw_bay, write_bay
from ui.printing.wall_frame import (
    draw_bays,
    draw_below,
    draw_dates,
    draw_days_off,
    draw_legend,
    draw_today,
    draw_word_of_today,
)
from ui.printing.wall_page import WallPage
from ui.printing.wall_sheets import wall_sheets
from ui.printing.wall_words import CUT
from ui.rows import TableRow

STYLE = """\
@page { size: PAPER landscape; margin: MARGINmm; }
html { background: #fff; color: #000; font: 9pt/1.3 sans-serif; print-color-adjust: exact; }
body { margin: 0; }
section { break-inside: avoid; height: HEIGHTmm; overflow: hidden; width: WIDTHmm; }
section + section { break-before: page; }
svg { display: block; }
.head, .foot { display: flex; gap: 4mm; overflow: hidden; white-space: nowrap; }
.head { align-items: baseline; height: HEADmm; }
.foot { align-items: end; font-size: 7pt; height: FOOTmm; justify-content: space-between; }
h1, h2 { font-size: 12pt; margin: 0; overflow: hidden; text-overflow: ellipsis; }
p { margin: 0; }
table { border-collapse: collapse; margin: 3mm 0; }
td, th { border: 0.3mm solid #000; padding: 1mm 1.5mm; text-align: left; vertical-align: top; }
@media screen { body { padding: MARGINmm; } section { margin-bottom: MARGINmm; } }
@media print { .unprinted { display: none; } }
"""


def wall_sheet(
    view: View, paper: Paper, today: date | None = None, issued: datetime | None = None
) -> bytes:
    """Return the wall sheet as an HTML page, in UTF-8; every text stays a text.

    ``today`` is the day at which its line is drawn; without one, that of ``issued``: now.
    """
    moment = issued or now()
    pages = pages_of(view, paper, today or moment.date())
    foot = issue_line((view.outcome.plan,), moment)
    body = [_section(page, foot) for page in pages]
    # Of one heading a page, the first is that of the whole.
    listed = [
        '<div class="unprinted">',
        heading("Slots"),
        value_table(slot_rows(view, pages)),
        "</div>",
    ]
    return document(f"Bays - {view.base.name}", _style(paper), [*body, *listed])


def pages_of(view: View, paper: Paper, today: date) -> list[WallPage]:
    """Return what is drawn on each page."""
    drawn, base = drawn_days(view), view.base
    sheets = wall_sheets(base.bays, drawn, base.first_day, paper.most_bays)
    return [WallPage(view, drawn, sheet, paper, today) for sheet in sheets]


def slot_rows(view: View, pages: list[WallPage]) -> list[TableRow]:
    """Return what the pages show as a table: a row a stay, with the sheets on which it stands."""
    return [
        {
            "Check": stay.check,
            "Aircraft": view.base.check(stay.check).aircraft,
            "Customer": view.base.check(stay.check).customer,
            "Hangar": view.base.bay(stay.bay).hangar,
            "Bay": stay.bay,
            "In": stay.in_day,
            "Out": stay.out_day,
            "Agreed out": view.agreed_out(stay),
            "Remarks": view.remarks_at(stay),
            "Sheet": ", ".join(
                str(page.sheet.number)
                for page in pages
                if page.shows(stay.in_day, stay.out_day)
                and stay.bay in {bay.name for bay in page.sheet.bays}
            ),
        }
        for stay in view.placements
    ]


def _section(page: WallPage, issue: str) -> str:
    sheet, level = page.sheet, "h1" if page.sheet.number == 1 else "h2"
    days = f"{day(sheet.first)} to {day(sheet.until - timedelta(days=1))}"
    return "\n".join(
        (
            "<section>",
            f'<div class="head"><{level}>{escape(f"Bays of {page.view.base.name}")}</{level}>',
            f"<p>{escape(days)}</p></div>",
            _drawn(page),
            f'<div class="foot"><p>{escape(issue)}</p><p>{escape(FOOT_CAUTION)}</p>',
            f"<p>{escape(CUT)}</p>",
            f"<p>Sheet {sheet.number} of {sheet.of}, {escape(page.paper.name)}</p></div>",
            "</section>",
        )
    )


def _drawn(page: WallPage) -> str:
    drawing = Drawing(page.paper.width, page.paper.drawing_mm)
    draw_legend(drawing, page)
    draw_days_off(drawing, page)
    draw_word_of_today(drawing, page)
    draw_dates(drawing, page)
    draw_bays(drawing, page)
    for row, bay in enumerate(page.sheet.bays):
        draw_bay(drawing, page, bay, row)
    draw_today(drawing, page)
    for row, bay in enumerate(page.sheet.bays):
        write_bay(drawing, page, bay, row)
    draw_below(drawing, page)
    last = page.sheet.until - timedelta(days=1)
    told = (
        f"Bars of {len(page.sheet.bays)} bays from {day(page.sheet.first)} to {day(last)}; the "
        "table Slots below the sheets has the same in words."
    )
    return drawing.svg(told)


def _style(paper: Paper) -> str:
    values = {
        "PAPER": paper.name,
        "MARGIN": f"{MARGIN_MM:g}",
        "HEIGHT": f"{paper.height:g}",
        "WIDTH": f"{paper.width:g}",
        "HEAD": f"{HEAD_MM:g}",
        "FOOT": f"{FOOT_MM:g}",
    }
    style = STYLE
    for name, value in values.items():
        style = style.replace(name, value)
    return style
