"""Which pieces are cut from which stock: lengths from bars and sticks, panels from sheets?

    first.first_fit, first.least    one stock length, at once: what every reading of a job pays for
    lengths.search                  several stock lengths, prices and offcuts on hand: better and better plans
    sheets.search                   panels from sheets, by cuts from edge to edge
    recount                         looks at any plan again, piece by piece, and knows nothing of how it was made

Only the quick plan is imported here: the searches need HiGHS and are called where a list is printed.
"""

from batterboard.methods.cutting.first import SLACK, Cut, Piece, first_fit, least

__all__ = ["SLACK", "Cut", "Piece", "first_fit", "least"]
