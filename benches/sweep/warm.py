"""A linear program given to HiGHS once, to be changed and solved again."""

import highspy
import numpy as np


def warm(costs, ends, rows, low, high):
    """A silent solver that holds the program: one cost and one pair of ends for each column, one low and one high end for each row."""
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(rows)
    model.col_cost_ = np.array(costs, dtype=float)
    model.col_lower_, model.col_upper_ = np.array(ends, dtype=float).T.copy()
    model.row_lower_, model.row_upper_ = np.array(low, dtype=float), np.array(high, dtype=float)
    starts, indices, numbers = [0], [], []
    for row in rows:
        places = np.flatnonzero(row)
        indices.extend(places)
        numbers.extend(np.asarray(row)[places])
        starts.append(len(indices))
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_, model.a_matrix_.index_, model.a_matrix_.value_ = (
        np.array(starts),
        np.array(indices),
        np.array(numbers),
    )
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.passModel(model)
    return solver
