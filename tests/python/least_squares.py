"""Generalised least squares with numpy: which part of several readings one cause explains.

Reads a JSON list of problems {apart, cause, others} from standard input and writes for each {off, spread, misfit}. The
covariance is the sum of the outer products of `others`. It is taken apart by its eigenvalues (not by Cholesky's method,
as in the Rust code), and the unknown is found by numpy's own least squares on what is then independent, not by the
normal equations.
"""

import json
import sys

import numpy


def answer(problem):
    apart, cause = numpy.array(problem["apart"]), numpy.array(problem["cause"])
    others = numpy.array(problem["others"])
    values, vectors = numpy.linalg.eigh(others.T @ others)
    whiten = numpy.diag(values**-0.5) @ vectors.T
    matrix = (whiten @ cause)[:, None]
    solution, _, rank, singular = numpy.linalg.lstsq(matrix, whiten @ apart, rcond=None)
    assert rank == 1
    left = whiten @ apart - matrix @ solution
    return {"off": float(solution[0]), "spread": float(1.0 / singular[0]), "misfit": float(left @ left)}


if __name__ == "__main__":
    json.dump([answer(problem) for problem in json.load(sys.stdin)], sys.stdout)
