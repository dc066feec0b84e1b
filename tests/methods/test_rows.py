"""What stands between two rows of a table?"""

import numpy as np
import pytest

from batterboard.methods.rows import between


def test_rows_themselves_and_halfway():
    assert [between(x, (3, 4, 6), (10, 20, 0)) for x in (3, 3.5, 4, 5, 6)] == [10, 15, 20, 10, 0]


def test_beyond_the_table_as_at_its_ends_or_as_said():
    assert (between(2, (3, 4), (10, 20)), between(9, (3, 4), (10, 20))) == (10, 20)
    assert np.isnan(between(2, (3, 4), (10, 20), outside=np.nan))


def test_a_number_gives_a_plain_number_and_an_array_its_shape():
    assert type(between(np.float64(3), (3, 4), (10, 20))) is float
    assert between(np.full((2, 3), 3.5), (3, 4), (10, 20)) == pytest.approx(np.full((2, 3), 15))
