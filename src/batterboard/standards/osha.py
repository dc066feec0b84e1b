"""US federal rules for open cuts: when to slope, when a ladder, how far back the spoil. One for steel on new concrete.

Only the numbers; a competent person on site decides, and a cut that is safe by depth alone may still cave in.
"""

from batterboard.quantity import ft, inch, lb
from batterboard.working import Document

PART_P = Document("29 CFR 1926 subpart P", "Excavations")
SLOPES = PART_P.table("B-1", "read: copies of the appendix")
PROTECTION = PART_P.clause("1926.652(a)(1)", "read: a contractors' guide to the rule")
LADDER = PART_P.clause("1926.651(c)(2)", "read: a contractors' guide to the rule")
OPEN_HOLE = Document("29 CFR 1926 subpart M", "Fall protection").clause("1926.501(b)(7)(ii)", "memory")
LADDER_TOP = Document("29 CFR 1926 subpart X", "Stairways and ladders").clause(
    "1926.1053(b)(1)", "read: a contractors' guide to the rule"
)
AIR = PART_P.clause("1926.651(g)(1)(i)", "read: a contractors' guide to the rule")
SPOIL = PART_P.clause("1926.651(j)(2)", "read: a contractors' guide to the rule")

PROTECTED_FROM = 5 * ft  # below it a competent person must still find no sign of a cave-in
LADDER_FROM = 4 * ft
LADDER_WITHIN = 25 * ft  # of travel to the nearest one
LADDER_ABOVE = 3 * ft  # how far it stands out above the edge
AIR_TEST_FROM = 4 * ft  # where bad air may be expected
SPOIL_BACK = 2 * ft
DESIGNED_FROM = 20 * ft  # deeper cuts are designed by an engineer
COVERED_FROM = 6 * ft  # a shaft or pit that nobody works in

POWER_LINES = Document("29 CFR 1926 subpart CC", "Cranes and Derricks in Construction").table(
    "1926.1408 A", "read: stored copy of the regulation"
)
LINE_CLEAR = {50e3: 10 * ft, 200e3: 15 * ft}  # up to so many volts; of cranes, taken for booms and chutes alike

SUBPART_R = Document("29 CFR 1926 subpart R", "Steel Erection")
ERECTION = SUBPART_R.clause("1926.752(a)(1)", "read: the rule and letters that interpret it")
COLUMN_BOLTS = SUBPART_R.clause("1926.755(a)", "read: the rule")
LEAST_BOLTS = 4  # under a column; a post under 300 lb is none, from memory
COLUMN_LOAD = 300 * lb  # straight down
COLUMN_LOAD_OFF = 18 * inch  # from the column's face, each direction
ERECTION_SHARE = 0.75  # of the specified strength, or enough for the loads; for steel erection, elsewhere a yardstick
