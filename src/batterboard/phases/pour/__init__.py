"""How much to order, in which lifts, how fast, and when must the next lift follow?

order(work, concrete, pour) -> Order     lifts, what each pier's form asks for, and what the plant is told
"""

from batterboard.phases.pour.order import Lift, Order, Piece, Rise, Ticket, order

__all__ = ["Lift", "Order", "Piece", "Rise", "Ticket", "order"]
