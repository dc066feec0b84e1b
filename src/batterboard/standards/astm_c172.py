"""ASTM C172 and C31: what is sampled at the truck, and how soon?

SAMPLE         1 ft3, from the middle of the load
TOGETHER       its portions within 15 min
TESTED         slump, air and temperature begun within 5 min of the last portion
MOULDED        cylinders within 15 min
"""

from batterboard.quantity import Time, Volume, ft3, minute
from batterboard.working import Document

SAMPLING = Document("ASTM C172 and C31", "Sampling; Test Specimens in the Field").clause("", "memory")
SAMPLE: Volume = 1 * ft3
TOGETHER: Time = 15 * minute
TESTED: Time = 5 * minute
MOULDED: Time = 15 * minute
