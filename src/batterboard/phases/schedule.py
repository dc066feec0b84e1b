"""What waits for what, and on which day?

    event : Event("locate", "ask for the utility locate", start=-8.0 d, end=-5.0 d, hold="every utility has answered")

Chained backwards from the pour by the lead times of the job, which are guesses until the offices have answered, and
forwards by the strength of the concrete. Days count from the pour; dates stand where the pour has one. Offices count
in working days, Monday to Friday, where there is a date; holidays are not known here. The crew works any day. What
becomes ready in the course of a day or night is done when next it is the hour at which the pour began.
"""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from batterboard.job import schema
from batterboard.phases.cure import Times, Wait
from batterboard.quantity import Time, day, hour
from batterboard.record import ordered, record
from batterboard.standards import ibc, trade
from batterboard.work.records import Work
from batterboard.working import Check, maximum, nan

Basis = Literal["given", "guess", "rule", "strength"]
REACH = 100 * 365 * day  # further than that no calendar is asked
LEADS = "lead times of the job"
CYLINDERS = (7 * day, 28 * day)

# What must be true before it is done, by act of `cure`.
HOLDS = {
    "strip": "the corners are hard",
    "shores": "it carries itself: from the middle of the span outwards, none put back",
    "frost": "strong enough to freeze once",
    "cure": "kept moist until then",
    "backfill": "both sides in even layers",
    "set": "hard enough to drill and shim on",
    "snug": "",
    "tighten": "",
    "weld": "curing is over and the plate is dry",
    "three quarters": "three quarters of the strength ordered",
    "hang": "three quarters of the strength ordered",
}


@record
class Event:
    """One thing that happens or has to be waited for. Times count from the start of the pour, before it negative."""

    name: str  # "ask for the utility locate", unique
    what: str  # its kind: permit, locate, dig, cage, notice, inspection, order, pour, an act of `cure`, as built,
    # cylinders, final
    start: Time
    end: Time
    hold: str  # what must be true before it goes on; "" where nothing is waited for
    basis: Basis
    source: str  # of the rule, or whose guess
    element: str  # "" where it is of the whole job
    pour: datetime | None  # the date that 0 stands for

    @property
    def starts(self) -> datetime | None:
        """Its date, of one job; None without one."""
        return self._date(self.start)

    @property
    def ends(self) -> datetime | None:
        return self._date(self.end)

    def _date(self, after: Time) -> datetime | None:
        if self.pour is None or not abs(after) < REACH:
            return None
        return self.pour + timedelta(seconds=round(float(after)))


@record
class Days:
    """Everything the phase answers."""

    pour: datetime | None
    events: tuple[Event, ...]  # in the order they start
    holds: tuple[str, ...]  # once each, in that order
    light: Time  # from sunrise to sunset on the day of the pour; nan where nobody says where it lies, or when
    notes: tuple[str, ...]
    checks: tuple[Check, ...] = ()


def days(
    work: Work, cure: Times, pour: schema.Pour, lead: schema.Lead, marks: Mapping[str, schema.Mark] | None = None
) -> Days:
    """The whole job in days. marks : of the job; one whose latitude is known gives the light of the day."""
    light = _light(pour, marks or {})
    calendar = _Calendar(pour.when)
    elements = [*work.bases.values(), *work.beams.values()]
    events = list(_after(work, cure, calendar, lead))
    if not all(element.done for element in elements):
        events = [*_before(calendar, lead), *events]
    events.sort(key=lambda event: _first(event.start))
    return Days(
        pour=pour.when,
        events=tuple(events),
        holds=tuple(dict.fromkeys(event.hold for event in events if event.hold)),
        light=light,
        notes=tuple(_notes(pour, light)),
    )


def _before(calendar: "_Calendar", lead: schema.Lead) -> Iterator[Event]:
    """From the permit desk to the pour, the last one first."""
    event = calendar.event
    inspected = calendar.office_back(0.0, 1 * day)
    asked = calendar.office_back(inspected, lead.inspection)
    caged = inspected - lead.cage
    dug = caged - lead.dig
    yield event("pour", "pour", 0.0, trade.POURING, "", "given" if calendar.pour else "guess", str(trade.WAITS))
    called = calendar.office_back(0.0, lead.plant)
    yield event("order", "order the concrete", called, 0.0, "the plant has confirmed", "guess", LEADS)
    hold = "the inspector has seen steel, forms and anchors in place; plans and permit on site"
    yield event("inspection", "inspection before the pour", inspected, inspected, hold, "rule", str(ibc.INSPECTION))
    yield event("notice", "ask for the inspection", asked, inspected, "", "guess", LEADS)
    hold = "a second person has measured the bolts"
    yield event("cage", "cage, forms and bolts", caged, inspected, hold, "guess", LEADS)
    yield event("dig", "dig and trim", dug, caged, "the soil is as assumed", "guess", LEADS)
    located = calendar.office_back(dug, lead.locate)
    yield event("locate", "ask for the utility locate", located, dug, "every utility has answered", "guess", LEADS)
    asked = calendar.office_day(dug - lead.permit)
    yield event("permit", "ask for the permit", asked, dug, "the permit is on site", "guess", LEADS)


def _after(work: Work, cure: Times, calendar: "_Calendar", lead: schema.Lead) -> Iterator[Event]:
    """From the pour to the hung leaf."""
    ready: dict[str, Time] = {}  # by element: when all that was done on it so far is done
    last: Time = trade.POURING
    for wait in cure.waits:
        start = next_morning(trade.POURING + wait.at)
        if wait.act == "hang":
            start = maximum(start, ready.get(wait.element, start))
        elif wait.act in ("set", "snug", "tighten", "weld"):
            ready[wait.element] = maximum(ready.get(wait.element, start), start)
        yield _waited(wait, start, calendar)
        last = np.fmax(last, start)
        if wait.act == "strip" and any(thing.on == wait.element for thing in work.posts.values()):
            name = f"measure {wait.element} as built"
            hold = "the plate is drilled from the bolts as found"
            yield calendar.event("as built", name, start, start, hold, "rule", str(trade.WAITS), wait.element)
    for age in CYLINDERS:
        hold = "what they broke at is written under [found.pour.breaks]"
        name = f"have cylinders broken at {age / day:.0f} d"
        t = next_morning(trade.POURING + age)
        yield calendar.event("cylinders", name, t, t, hold, "rule", str(trade.CYLINDERS))
    end = calendar.office_on(last, lead.inspection)
    yield calendar.event("final", "final inspection", last, end, "the inspector has signed", "guess", LEADS)


def _waited(wait: Wait, start: Time, calendar: "_Calendar") -> Event:
    source = wait.strength if wait.governs == "strength" else wait.rule
    begins = trade.POURING if wait.act == "cure" else start
    hold = HOLDS[wait.act]
    return calendar.event(wait.act, wait.name, begins, start, hold, wait.governs, source, wait.element)


def next_morning(t: Time) -> Time:
    """The first whole day after the pour that is not before t [s]."""
    return np.ceil(t / day - 1e-9) * day


def _first(t: Time) -> float:
    """Of the first variant; what never comes is last."""
    first = float(np.ravel(t)[0])
    return first if first == first else np.inf


def _light(pour: schema.Pour, marks: Mapping[str, schema.Mark]) -> Time:
    latitude = next((mark.latitude for mark in marks.values() if mark.latitude is not None), None)
    if latitude is None or pour.when is None:
        return nan
    from batterboard.standards import daylight  # few jobs say where on the earth they lie

    return daylight.daylight(latitude, daylight.declination(float(pour.when.timetuple().tm_yday)))


def _notes(pour: schema.Pour, light: Time) -> Iterator[str]:
    if light == light:
        yield f"it is light for {light / hour:.1f} h on the day of the pour"
    yield "lead times are guesses until the offices have answered"
    if pour.when is None:
        yield "no day was said for the pour: days count from it, and offices are taken to work every day"
    else:
        yield "offices work Monday to Friday; holidays are not known here"


# ---- the calendar ----


@ordered
class _Calendar:
    """Working days of the offices, where the pour has a date."""

    pour: datetime | None

    def office_back(self, t: Time, notice: Time) -> Time:
        """Latest time to ask for something that is needed at t, asked for so many working days ahead."""
        return self._office(t, -notice, "forward")

    def office_on(self, t: Time, notice: Time) -> Time:
        """When something comes that is asked for at t and takes so many working days."""
        return self._office(t, notice, "forward")

    def office_day(self, t: Time) -> Time:
        """The same, or the last working day before it."""
        return self._office(t, 0.0, "backward")

    def _office(self, t: Time, notice: Time, roll: Literal["forward", "backward"]) -> Time:
        if self.pour is None or not np.all(np.abs(t) + np.abs(notice) < REACH):
            return t + notice
        count = np.sign(notice) * np.ceil(np.abs(notice) / day - 1e-9)
        seconds = np.round(np.asarray(t, float)).astype("timedelta64[s]")
        date = (np.datetime64(self.pour.replace(tzinfo=None), "s") + seconds).astype("datetime64[D]")
        moved = np.busday_offset(date, np.asarray(count).astype(int), roll=roll)
        return t + (moved - date).astype("timedelta64[D]").astype(float) * day

    def event(
        self, what: str, name: str, start: Time, end: Time, hold: str, basis: Basis, source: str, element: str = ""
    ) -> Event:
        return Event(
            what=what,
            name=name,
            start=start,
            end=end,
            hold=hold,
            basis=basis,
            source=source,
            element=element,
            pour=self.pour,
        )
