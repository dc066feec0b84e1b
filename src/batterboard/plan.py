"""The chain: everything that follows from one job, in the order the trade does it."""

from functools import cached_property
from typing import TYPE_CHECKING

from batterboard.job.schema import Job
from batterboard.phases import cage, concrete, cure, dig, forms, pour, schedule, setout, size, steel, template
from batterboard.record import ordered
from batterboard.work.build import build
from batterboard.work.records import Work
from batterboard.working import Check, worst_first

if TYPE_CHECKING:
    from batterboard.phases.cage import StockBars
    from batterboard.phases.concrete.watering import Watering
    from batterboard.phases.cure.curves import Band, Weld
    from batterboard.phases.cure.opinions import Opinion
    from batterboard.phases.cure.warmth import Heat
    from batterboard.phases.forms.beside import Beside
    from batterboard.phases.forms.lumber import Lumber
    from batterboard.phases.forms.pieces import Pieces
    from batterboard.phases.forms.sheets import Sheets
    from batterboard.phases.ordering import Ordering
    from batterboard.phases.pour.hour import Hour
    from batterboard.phases.pour.trouble import Trouble
    from batterboard.phases.pour.vibration import Vibration
    from batterboard.phases.pour.weather import Weather
    from batterboard.phases.proportions import Proportions
    from batterboard.phases.setout.strings import Board


@ordered
class Plan:
    """One job from the first stake to the hung leaf. A phase needs what stands in its call, and nothing below it."""

    job: Job

    @cached_property
    def work(self) -> Work:
        return build(self.job)

    @cached_property
    def size(self) -> size.Size:
        return size.stands(self.work, self.job.site.wind, self.job.mixes)

    @cached_property
    def setout(self) -> setout.Setout:
        return setout.chain(self.work, self.job.instruments, self.job.measured)

    @cached_property
    def dig(self) -> dig.Dig:
        return dig.cuts(self.work)

    @cached_property
    def boards(self) -> "tuple[Board, ...]":
        """Batter boards: they are set out before the digging, clear of what will be dug."""
        from batterboard.phases.setout.strings import boards

        return boards(self.work, self.dig.holes)

    @cached_property
    def hole_widths(self) -> dict[str, float]:
        """The hole that lets nineteen of twenty plates drop on."""
        return setout.widths(self.work, self.job.instruments)

    @cached_property
    def template(self) -> template.Template:
        return template.patterns(self.work, self.job.job.units)

    @cached_property
    def cage(self) -> cage.Cage:
        return cage.schedule(self.work, self.job.mixes, self.job.stock)

    @cached_property
    def bars(self) -> "StockBars":
        """The stock bars that the cage is cut from: a search, not needed by any check."""
        from batterboard.phases.cage.stock import from_fewest

        return from_fewest(self.cage)

    @cached_property
    def forms(self) -> forms.Forms:
        return forms.boxes(self.work, self.job.pour, self.job.mixes, self.job.stock, self.job.site.wind)

    @cached_property
    def pieces(self) -> "Pieces":
        """Every panel and strip of the forms by itself; not needed by any check."""
        from batterboard.phases.forms.pieces import pieces

        return pieces(self.job, self.work, self.forms)

    @cached_property
    def beside(self) -> "Beside":
        """How others reckon the forms' pressure, and what floats; not needed by any check."""
        from batterboard.phases.forms.beside import beside

        return beside(self.forms, self.work, self.job.pour, self.job.mixes)

    @cached_property
    def sheets(self) -> "Sheets":
        """A search, not needed by any check."""
        from batterboard.phases.forms.sheets import on_sheets

        return on_sheets(self.forms, self.job.stock)

    @cached_property
    def lumber(self) -> "Lumber":
        """Strips and sticks on the lengths of the yard: a search, not needed by any check."""
        from batterboard.phases.forms.lumber import lumber

        return lumber(self.job, self.forms)

    @cached_property
    def concrete(self) -> concrete.Concrete:
        return concrete.mixes(self.work, self.job.mixes, self.job.site, self.job.pour)

    @cached_property
    def pour(self) -> pour.Order:
        return pour.order(self.work, self.concrete, self.job.pour, self.job.job.units)

    @cached_property
    def vibration(self) -> "Vibration":
        """Where the vibrator goes in, past all steel: asked by no check."""
        from batterboard.phases.pour.vibration import vibration

        return vibration(self.work, self.job.pour.vibrator, self.template.patterns, self.setout.diagonals)

    @cached_property
    def hour(self) -> "Hour":
        """The day of the pour by the minute: asked by no check."""
        from batterboard.phases.pour.hour import timeline

        job = self.job
        return timeline(self.work, self.pour, self.concrete, job.pour, job.mixes, self.forms.feet, self.vibration)

    @cached_property
    def weather(self) -> "Weather":
        from batterboard.phases.pour.weather import weather

        return weather(self.work, self.concrete, self.job.pour, self.job.mixes, self.hour, self.job.job.units)

    @cached_property
    def trouble(self) -> "Trouble":
        """What may go wrong on the day."""
        from batterboard.phases.pour.trouble import trouble

        return trouble(self.work, self.pour, self.hour, self.job.job.units)

    @cached_property
    def watering(self) -> "Watering":
        """Gallons for the drum, looked up at the truck: asked by no check."""
        from batterboard.phases.concrete.watering import cards

        return cards(self.concrete, self.job.pour.truck.load, self.job.job.units)

    @cached_property
    def proportions(self) -> "Proportions":
        """What to weigh where it is mixed on site: asked by no check."""
        from batterboard.phases.proportions import trials

        return trials(self.concrete, self.job.mixes, self.job.job.units)

    @cached_property
    def ordering(self) -> "Ordering":
        """How sure the order is and what it costs: asked on paper, by no check."""
        from batterboard.phases.ordering import amounts

        return amounts(self.work, self.cage, self.concrete, self.pour, self.hour, self.job)

    @cached_property
    def cure(self) -> cure.Times:
        return cure.times(self.work, self.concrete, self.job.pour, self.forms.shored)

    @cached_property
    def heat(self) -> "Heat":
        """How warm it gets inside: asked by no check."""
        from batterboard.phases.cure.warmth import heat

        return heat(self.work, self.concrete, self.job.pour, self.cure)

    @cached_property
    def bands(self) -> "dict[str, Band]":
        """Strength by age, drawn on the curing page."""
        from batterboard.phases.cure.curves import bands

        return bands(self.work, self.concrete, self.job.pour)

    @cached_property
    def opinions(self) -> "tuple[Opinion, ...]":
        """What every published function says of the strength: asked by no check."""
        from batterboard.phases.cure.opinions import opinions

        return opinions(self.work, self.concrete, self.job.pour)

    @cached_property
    def welds(self) -> "tuple[Weld, ...]":
        """What welding does to the plates: asked by no check."""
        from batterboard.phases.cure.curves import welds

        return welds(self.work, self.cure)

    @cached_property
    def steel(self) -> steel.Steel:
        return steel.posts(self.work)

    @cached_property
    def schedule(self) -> schedule.Days:
        return schedule.days(self.work, self.cure, self.job.pour, self.job.lead, self.job.marks)

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """Every check of the job, worst first."""
        return worst_first(
            self.size.checks,
            self.setout.checks,
            self.dig.checks,
            self.template.checks,
            self.cage.checks,
            self.forms.checks,
            self.concrete.checks,
            self.pour.checks,
            self.cure.checks,
            self.steel.checks,
            self.schedule.checks,
            hung=bool(self.work.leaves),
        )
