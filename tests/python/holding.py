"""What tie-downs hold, by scipy's linear programs, in a formulation of its own: moments about the deck's origin, friction as
the edges of the eight-sided polygon inside the cone, every force its own variable. Upward: the sum of what the ties press down with,
by hand."""
import json
import math
import sys

import numpy as np
from scipy.optimize import linprog

WAYS = {
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
}


def wrench(at, force):
    return np.concatenate([force, np.cross(at, force)])


def pressed(case):
    """What the ties press down with: as much of each as its limit and its anchor allow, the steepest first."""
    ties = []
    for pull in case["pulls"]:
        way = np.array(pull["to"]) - np.array(pull["from"])
        ties.append((-way[2] / np.linalg.norm(way), pull["limit"], pull["anchor"]))
    left = {at: math.inf if rating is None else rating for at, rating in enumerate(case["anchors"])}
    total = 0.0
    for down, limit, anchor in sorted(ties, reverse=True):
        if down > 0:
            tension = min(limit, left[anchor])
            left[anchor] -= tension
            total += tension * down
    return total / case["weight"]


def holds(case, toward):
    if toward == "up":
        return pressed(case)
    weight, cg, mu = case["weight"], np.array(case["cg"]), case["friction"]
    columns, bounds, upper, limits = [], [], [], []
    way = np.array(WAYS[toward])
    columns.append(wrench(cg, weight * way))
    bounds.append((0, None))
    by_anchor = {}
    for pull in case["pulls"]:
        start, end = np.array(pull["from"]), np.array(pull["to"])
        columns.append(wrench(start, (end - start) / np.linalg.norm(end - start)))
        bounds.append((0, pull["limit"]))
        by_anchor.setdefault(pull["anchor"], []).append(len(columns) - 1)
    count = len(columns) + 3 * len(case["footing"])
    for footing in case["footing"]:
        at = np.array(footing["at"])
        first = len(columns)
        for axis in range(3):
            force = np.zeros(3)
            force[axis] = 1.0
            columns.append(wrench(at, force))
            free = (None, None) if axis < 2 else (0, None)
            bounds.append((0, 0) if axis == 0 and footing["rolls"] else free)
        for edge in range(8):
            row = np.zeros(count)
            angle = (edge + 0.5) * math.tau / 8
            # A wheel that rolls keeps the two corners of the polygon that lie straight across.
            if footing["rolls"]:
                if edge > 1:
                    continue
                row[first + 1] = 1.0 if edge == 0 else -1.0
                row[first + 2] = -mu
            else:
                row[first], row[first + 1] = math.cos(angle), math.sin(angle)
                row[first + 2] = -mu * math.cos(math.pi / 8)
            upper.append(row)
            limits.append(0.0)
    for anchor, members in by_anchor.items():
        rating = case["anchors"][anchor]
        if rating is not None:
            row = np.zeros(count)
            row[members] = 1.0
            upper.append(row)
            limits.append(rating)
    gravity = wrench(cg, np.array([0.0, 0.0, -weight]))
    solved = linprog(
        [-1.0] + [0.0] * (count - 1),
        A_ub=np.array(upper),
        b_ub=np.array(limits),
        A_eq=np.array(columns).T,
        b_eq=-gravity,
        bounds=bounds,
        method="highs",
    )
    return -solved.fun if solved.status == 0 else None


cases = json.load(sys.stdin)
json.dump([{toward: holds(case, toward) for toward in [*WAYS, "up"]} for case in cases], sys.stdout)
