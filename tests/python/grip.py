"""Grip on a slope by virtual work, with SymPy.

Reads a JSON list of machines from standard input: wheelbase, centre of gravity ahead of the rear axle and its height in m,
whether the nose points uphill, the slope in degrees. Writes a JSON list of answers: the rear axle's part of what presses
square to the slope on both, and the friction needed by the rear axle, the front axle and both, to 30 digits. Nothing here is
taken from the Rust code, and no moment is taken: the machine's height is written down in three coordinates (how far it
moves along the slope, square to it, and how far it turns); its weight does work on that height, and each force is what holds
the displacement over its contact.
"""

import json
import sys

import sympy

ALONG, SQUARE, TURN = sympy.symbols("along square turn")
B, X, H, SLOPE, UP = sympy.symbols("b x h slope up")
REAR, FRONT, PULL = sympy.symbols("rear front pull")


def solve():
    """The forces for a weight of 1, as expressions."""
    uphill = sympy.Matrix([sympy.cos(SLOPE), sympy.sin(SLOPE)])
    normal = sympy.Matrix([-sympy.sin(SLOPE), sympy.cos(SLOPE)])
    turned = sympy.Matrix([[sympy.cos(TURN), -sympy.sin(TURN)], [sympy.sin(TURN), sympy.cos(TURN)]])

    def place(ahead, above):
        # The rear contact is the origin; the nose points uphill (UP = 1) or downhill (UP = -1).
        own = turned * (UP * ahead * uphill + above * normal)
        return ALONG * uphill + SQUARE * normal + own

    height = place(X, H)[1]
    rear = place(0, 0).dot(normal)
    front = place(B, 0).dot(normal)
    along = place(0, 0).dot(uphill)
    work = -height + REAR * rear + FRONT * front + PULL * along
    still = {ALONG: 0, SQUARE: 0, TURN: 0}
    balance = [sympy.diff(work, one).subs(still) for one in (ALONG, SQUARE, TURN)]
    [forces] = sympy.linsolve(balance, (REAR, FRONT, PULL))
    return forces


def main():
    rear, front, pull = solve()
    answers = (rear / (rear + front), pull / rear, pull / front, pull / (rear + front))
    told = []
    for case in json.load(sys.stdin):
        values = {
            B: sympy.Float(case["wheelbase"], 40),
            X: sympy.Float(case["ahead"], 40),
            H: sympy.Float(case["height"], 40),
            SLOPE: sympy.Float(case["slope"], 40) * sympy.pi / 180,
            UP: 1 if case["forward"] else -1,
        }
        told.append([float(answer.subs(values).evalf(30)) for answer in answers])
    json.dump(told, sys.stdout)


main()
