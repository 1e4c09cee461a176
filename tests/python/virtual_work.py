"""Axle loads of coupled rigs by virtual work, exactly, with SymPy's rationals.

Reads a JSON list of rigs from standard input, writes a JSON list of answers: trailer
axles, front axle, rear axle in kg, couple in kg m. Nothing here is taken from the Rust code:
no force is balanced and no moment is taken. The rig's potential is written down in three coordinates (how far the ball
sinks, the slope of the trailer, the slope of the truck), differentiated, and solved with the supports as constraints:

- a rigid support is a constraint on the displacement over it, its multiplier is the axle's load;
- equalizers constrain only the mean displacement of the axles;
- a spring stores A0 u + k u^2 / 2, or nothing where its wheel hangs free;
- the bars of a weight-distributing hitch do work on the angle between truck and trailer.

Masses in kg, lengths in m, rates in N/m; u is downward from the empty, level trailer.
"""

import itertools
import json
import sys
from fractions import Fraction

import sympy

GRAVITY = sympy.Rational(980665, 100000)
BALL, TRAILER, TRUCK = sympy.symbols("ball trailer truck")
FRONT, REAR, GROUP, COUPLE = sympy.symbols("front rear group couple")


def exact(number):
    fraction = Fraction(number)
    return sympy.Rational(fraction.numerator, fraction.denominator)


def states(rig, couple, more):
    """Every state that satisfies the stationarity and the constraints, with all pushes at or above zero."""
    stations = [exact(s) for s in rig["stations"]]
    n = len(stations)
    held = exact(rig["lowered"])
    on_trailer = lambda s: BALL + TRAILER * s
    on_truck = lambda s: BALL + TRUCK * s
    overhang, wheelbase = exact(rig["overhang"]), exact(rig["wheelbase"])
    rear_at, front_at = -overhang, -overhang - wheelbase
    group = exact(rig["empty_axles"])
    if rig["rates"] is None:
        shares = [group / n] * n
    else:
        rates = [exact(rate) / GRAVITY for rate in rig["rates"]]
        weights = [exact(w) for w in rig["empties"]] if rig["empties"] else rates
        shares = [group * w / sum(weights) for w in weights]
    potential = -exact(rig["empty_tongue"]) * on_trailer(0)
    potential -= sum(share * on_trailer(s) for share, s in zip(shares, stations))
    potential -= sum(exact(w) * on_trailer(exact(s)) for w, s in rig["on_trailer"])
    potential -= exact(rig["front"]) * on_truck(front_at) + exact(rig["rear"]) * on_truck(rear_at)
    potential -= sum(exact(w) * on_truck(rear_at - exact(d)) for w, d in rig["on_truck"])
    potential -= couple * (TRAILER - TRUCK)
    potential += FRONT * on_truck(front_at) + REAR * on_truck(rear_at)
    constraints = [on_truck(front_at), on_truck(rear_at)]
    unknowns = [BALL, TRAILER, TRUCK, FRONT, REAR]
    if rig["rates"] is None:
        mean = sum(on_trailer(s) for s in stations) / n
        cases = [(potential + GROUP * mean, constraints + [mean], unknowns + [GROUP], [GROUP / n] * n, [])]
    else:
        cases = []
        for grounded in itertools.product([True, False], repeat=n):
            if not any(grounded):
                continue
            pressed = [held + on_trailer(s) for s in stations]
            case, forces, free = potential, [], []
            for down, u, share, rate in zip(grounded, pressed, shares, rates):
                force = share + rate * u
                if down:
                    case += share * u + rate * u**2 / 2
                    forces.append(force)
                else:
                    forces.append(sympy.Integer(0))
                    free.append(force)
            cases.append((case, constraints, unknowns, forces, free))
    for case, fixed, names, forces, free in cases:
        equations = [sympy.diff(case, q) for q in (BALL, TRAILER, TRUCK)] + fixed
        if more is not None:
            equations, names = equations + [more], names + [COUPLE]
        solved = sympy.linsolve([sympy.expand(e) for e in equations], names)
        for solution in solved:
            found = dict(zip(names, solution))
            axles = [sympy.sympify(f).subs(found) for f in forces]
            if any(value.free_symbols for value in found.values()):
                continue
            if rig["rates"] is None or (
                all(f >= 0 for f in axles) and all(sympy.sympify(f).subs(found) <= 0 for f in free)
            ):
                yield found, axles


def answer(rig):
    bars = rig["bars"]
    zero = sympy.Integer(0)
    couple = exact(bars["couple"]) if bars and "couple" in bars else zero
    found, axles = next(states(rig, couple, None))
    if bars and "restores" in bars:
        everything = exact(rig["empty_tongue"]) + exact(rig["empty_axles"])
        tongue = everything + sum(exact(w) for w, _ in rig["on_trailer"]) - sum(axles)
        if tongue > 0:
            carried = sum(exact(w) * exact(d) for w, d in rig["on_truck"])
            alone = exact(rig["front"]) + carried / exact(rig["wheelbase"])
            wanted = alone - (1 - exact(bars["restores"])) * (alone - found[FRONT])
            found, axles = next(states(rig, COUPLE, FRONT - wanted))
            couple = found[COUPLE]
    return [float(f) for f in [*axles, found[FRONT], found[REAR], couple]]


if __name__ == "__main__":
    json.dump([answer(rig) for rig in json.load(sys.stdin)], sys.stdout)
