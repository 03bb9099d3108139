"""The job that plans anew from the plan in force with news, as ``capacity replan`` does."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from threading import Event

from capacity.errors import InputError, StoppedError
from capacity.facts import Base
from capacity.inputs.aircraft_on_ground import OnGround, aircraft_on_ground, notes_on
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.messages import Level, Message
from capacity.plans.outcome import Impossible, Planned
from capacity.plans.plan import Plan
from capacity.questions.replan.move_costs import MoveCosts
from capacity.questions.replan.replanning import replan
from capacity.reports.plan_files.base_of import notes_about, refuse_other_base
from capacity.reports.plan_files.written import PlanFile, read_plan_file, with_left_out
from capacity.reports.replan.workbook import outcome_of
from ui.desk.apart import apart
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.opened_workbook import OpenedBook, read_as_of, with_booked
from ui.desk.plan_file import plan_file_text
from ui.desk.plan_job import PLAN, PlanWithNews, Result, keep_improvements, result_of
from ui.desk.search_settings import search_settings

DEFAULTS = MoveCosts()
ON_THE_PAGE = "the plan below"
IN_FORCE = "plan in force"
TABLES = "Tables in a folder of CSV files are not written to here."
ADD_THERE = "Add the aircraft there yourself, or save the tables as one workbook."


@dataclass(frozen=True, slots=True)
class News:
    """What a person sets of a re-plan; prices in the base's currency, ``seconds`` to search.

    ``on_ground`` are aircraft to be taken in, told in a line each.
    """

    today: date
    freeze_days: int = 0
    day_price: float = DEFAULTS.day_booked
    bay_price: float = DEFAULTS.bay
    seconds: float = 60.0
    on_ground: tuple[str, ...] = ()

    @property
    def move_costs(self) -> MoveCosts:
        """The prices of moves, as the options of ``capacity replan`` set them."""
        price = self.day_price
        return replace(DEFAULTS, day_booked=price, day_option=price, bay=self.bay_price)


def plan_on_the_page(desk: Desk) -> PlanFile | None:
    """Return the plan of the desk as its plan file says it; None where there is none."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        return None
    return replace(read_plan_file(plan_file_text(result)), name=ON_THE_PAGE)


def as_of_news(file: PlanFile, today: date) -> AsOf:
    """Return as of which day the workbook is read, with who came in by the plan in force."""
    return as_of_plan(with_left_out(file), today)


def start_replan(
    desk: Desk, file: PlanFile, news: News, old: OpenedBook | None = None
) -> Job | None:
    """Begin to plan the workbook in use anew; None where nothing is open or a job is going on.

    Aircraft on ground become booked checks of a copy of the workbook, which is in use from then
    on. ``old`` is the workbook that the plan in force was made for, where that was opened.

    Raises
    ------
    InputError
        When the workbook has errors as of today, or would have them with the aircraft on ground,
        or the plan in force is one of another base. Nothing is changed then.
    """
    opened = desk.opened
    if opened is None or desk.is_working:
        return None
    as_of = as_of_news(file, news.today)
    read = read_as_of(opened, as_of)
    base = read.book.base
    if base is None:
        raise InputError(read.book.messages)
    refuse_other_base(file, base)
    before = None if old is None else _base_as_of(old, as_of)
    if file.name == ON_THE_PAGE:
        before = _old_base(result_of(desk), opened, as_of)
    notes = tuple(notes_about(file, base))
    if news.on_ground:
        found = aircraft_on_ground(news.on_ground, base, news.today)
        notes = (*notes_on(found, news.today), *notes)
        opened = _with_aircraft(opened, found)
        read = read_as_of(opened, as_of)
        if read.book.base is None:
            raise InputError(read.book.messages)
        base = read.book.base
        desk.use(opened, {})
    work = _Work(read, base, with_left_out(file), before, file, news, notes)
    desk.base_at_work = base
    return desk.start(PLAN, opened, apart(work), news.seconds, keep_improvements)


@dataclass(frozen=True, slots=True)
class _Work:
    """The work itself; ``old_base`` is what the plan in force was made for, where it is known.

    ``notes`` are about its file and about aircraft on ground.
    """

    opened: OpenedBook
    read: Base
    old: Plan
    old_base: Base | None
    file: PlanFile
    news: News
    notes: tuple[Message, ...]

    def __call__(self, tell: Tell, stop: Event) -> object:
        """Return the re-plan; None when it was stopped before there was one."""
        news, base = self.news, self.read
        if self.file.made is not None:
            base = base.replace(work_done=self.file.made.work_done)
        try:
            found = replan(
                base,
                self.old,
                news.today,
                search_settings(news.seconds),
                move_costs=news.move_costs,
                freeze_days=news.freeze_days,
                old_base=self.old_base,
                stop=stop,
                on_progress=tell,
            )
        except StoppedError:
            return None
        if isinstance(found, Impossible):
            raise InputError([_impossible(sentence) for sentence in found.why])
        return PlanWithNews(
            opened=replace(self.opened, book=replace(self.opened.book, base=found.base)),
            read=self.read,
            outcome=outcome_of(found),
            earlier=self.old,
            answer=found,
            notes=self.notes,
        )


def _impossible(sentence: str) -> Message:
    remedy = "Correct the workbook or the day set as today, or open the plan that is in force."
    return Message(Level.ERROR, IN_FORCE, sentence, remedy)


def _with_aircraft(opened: OpenedBook, found: Sequence[OnGround]) -> OpenedBook:
    """Return a copy of the workbook with aircraft on ground as further rows."""
    if opened.content is None:
        raise InputError([Message(Level.ERROR, opened.name, TABLES, ADD_THERE)])
    return with_booked(opened, [one.check for one in found], [one.package for one in found])


def _base_as_of(opened: OpenedBook, as_of: AsOf) -> Base | None:
    return read_as_of(opened, as_of).book.base


def _old_base(result: Result | None, opened: OpenedBook, as_of: AsOf) -> Base | None:
    """Return the base that the plan on the page was made for, where the workbook is another now."""
    if result is None or result.opened.content == opened.content:
        return None
    return _base_as_of(result.opened, as_of)
