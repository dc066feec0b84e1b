"""How much to order, in which lifts, how fast, and when must the next lift follow?

order(work, concrete, pour) -> Order     lifts, what each pier's form asks for, and what the plant is told
hour                                     the day by the minute: trucks, lifts, vibration, holds
vibration                                where the head goes in, past all steel, and what is measured afterwards
weather                                  drying, the concrete's temperature, go or no-go
trouble                                  if a truck is late, it rains, a form moves, a quarter yard is short

Checks need `order` alone; the rest is asked on paper and imported only then.
"""

from batterboard.phases.pour.order import Lift, Order, Piece, Rise, Ticket, order

__all__ = ["Lift", "Order", "Piece", "Rise", "Ticket", "order"]
