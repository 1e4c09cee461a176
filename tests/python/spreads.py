"""How far the figures of random load sheets can be off, by the general-purpose package `uncertainties`.

Reads {"seed", "sheets"} from standard input and writes, for each of so many random sheets, its text and its figures as
[value, half-width], in SI. Nothing here is taken from the Rust code: units, half-widths by origin and the equations of the
rig are written down a second time, every number of a sheet is an `ufloat` whose standard deviation is its half-width, and
the package carries the correlations along by its own derivatives (linear propagation, JCGM 100, 5.1.2).

The equations (stations s behind the ball): sums of weights; moments about the ball; axles that share equally, or springs
under a rigid frame whose coupler is held at a height, their own weights split by their rates; a weight-distributing hitch
as a couple that gives the front axle back a part of what it lost.
"""

import json
import random
import sys

from uncertainties import ufloat

LB, INCH, GRAVITY = 0.45359237, 0.0254, 9.80665
UNITS = {
    "mass": [("lb", LB), ("kg", 1.0), ("t", 1000.0), ("ton", 2000 * LB)],
    "length": [("in", INCH), ("ft", 12 * INCH), ("mm", 0.001), ("cm", 0.01), ("m", 1.0), ("yd", 36 * INCH)],
    "volume": [("yd3", (36 * INCH) ** 3), ("m3", 1.0), ("L", 0.001), ("ft3", (12 * INCH) ** 3)],
    "rate": [('"N/mm"', 1000.0), ('"lbf/in"', LB * GRAVITY / INCH), ('"kN/m"', 1000.0)],
    "share": [("pct", 0.01)],
}
# Part of the value and least amount, by kind and origin.
HALF = {
    "mass": {
        "weighed": (0.01, 20 * LB),
        "plate": (0.03, 20 * LB),
        "measured": (0.02, 20 * LB),
        "brochure": (0.05, 20 * LB),
        "estimate": (0.15, 50 * LB),
    },
    "length": {
        "weighed": (0, 0.5 * INCH),
        "plate": (0, 0.5 * INCH),
        "measured": (0, 0.5 * INCH),
        "brochure": (0.01, INCH),
        "estimate": (0.05, 3 * INCH),
    },
    "volume": {o: (0.15 if o == "estimate" else 0.05, 0) for o in ("weighed", "plate", "measured", "brochure", "estimate")},
    "rate": {"measured": (0.10, 0), "plate": (0.10, 0), "brochure": (0.15, 0), "estimate": (0.30, 0)},
    "share": {"estimate": (0, 0.10), "measured": (0, 0.05)},
}
UNSAID = {"mass": "brochure", "length": "measured", "volume": "estimate", "rate": "brochure", "share": "estimate"}
WEIGHED = ("weighed", "tongue", "axles", "empty")
PLACED = ("front-gap", "rear-gap", "left")
ORIGINS = ("weighed", "plate", "measured", "brochure", "estimate")


class Node:
    """A node of the sheet, with what it says of how well its numbers are known."""

    def __init__(self, draw, kinds):
        self.draw, self.origin, self.spread, self.says = draw, None, None, ""
        how = draw.choice(["nothing", "origin", "amount", "part"])
        if how == "part" and "share" in kinds:
            how = "origin"
        if how == "origin":
            self.origin = draw.choice(ORIGINS)
            self.says = f' origin="{self.origin}"'
        elif how == "amount":
            kind = draw.choice([kind for kind in kinds if kind != "share"])
            symbol, factor = draw.choice(UNITS[kind])
            size = {"mass": 60.0, "length": 0.05, "volume": 0.3, "rate": 2e4}[kind] * draw.uniform(0.1, 1.0)
            value = float(f"{size / factor:.4g}")
            self.spread = (kind, value * factor)
            self.says = f" plus-minus=({symbol}){value!r}"
        elif how == "part":
            value = round(draw.uniform(0.1, 8.0), 2)
            self.spread = ("part", value / 100)
            self.says = f" plus-minus=(pct){value!r}"

    def half(self, word, kind, value):
        if self.spread and self.spread[0] == "part":
            return self.spread[1] * abs(value)
        if self.spread and self.spread[0] == kind:
            return self.spread[1]
        origin = "measured" if word in PLACED else self.origin
        if origin is None:
            origin = "weighed" if word in WEIGHED else UNSAID[kind]
        part, least = HALF[kind].get(origin, (0, 0))
        return max(part * abs(value), least)

    def number(self, word, kind, low, high):
        """A random number as the sheet writes it, and as what is known of it."""
        symbol, factor = self.draw.choice(UNITS[kind])
        value = float(f"{self.draw.uniform(low, high) / factor:.6g}")
        half = self.half(word, kind, value * factor)
        # Of what cannot be off the package wants no standard deviation of zero.
        known = ufloat(value * factor, half) if half > 0 else value * factor
        return f"({symbol}){value!r}", known


def sheet(draw):
    out, figures = [], {}
    number = lambda node, word, kind, low, high: node.number(word, kind, low, high)

    # The truck.
    kind = draw.choice(["ball", "weight-distributing", "gooseneck"])
    front_node, rear_node = Node(draw, ["mass"]), Node(draw, ["mass"])
    front_text, front = number(front_node, "weighed", "mass", 1500, 2500)
    rear_text, rear = number(rear_node, "weighed", "mass", 1200, 2200)
    base_node = Node(draw, ["length"])
    base_text, wb = number(base_node, "wheelbase", "length", 3.2, 4.6)
    hitch = Node(draw, ["length", "share"] if kind == "weight-distributing" else ["length"])
    overhang = (-0.4, -0.05) if kind == "gooseneck" else (0.9, 1.7)
    over_text, oh = number(hitch, "behind-rear-axle", "length", *overhang)
    height_text, height = number(hitch, "height", "length", 0.45, 0.6)
    restores_text, restores = number(hitch, "restores", "share", 0.2, 0.9)
    restores_text = f" restores={restores_text}" if kind == "weight-distributing" else ""
    out.append(
        f'truck "t" {{\n axle "front" weighed={front_text}{front_node.says}\n axle "rear" weighed={rear_text}{rear_node.says}\n'
        f" wheelbase {base_text}{base_node.says}\n"
        f' hitch "{kind}" behind-rear-axle={over_text} height={height_text}{restores_text}{hitch.says}\n}}'
    )

    # The trailer.
    empty = Node(draw, ["mass"])
    tongue_text, tongue0 = number(empty, "tongue", "mass", 100, 400)
    axles_text, axles0 = number(empty, "axles", "mass", 800, 2000)
    springs = draw.random() < 0.4
    at = draw.uniform(4.2, 5.2)
    axles, lines = [], []
    for _ in range(draw.choice([1, 2, 2, 3]) if not springs else draw.choice([2, 3])):
        node = Node(draw, ["length", "rate"] if springs else ["length"])
        at_text, station = number(node, "at", "length", at, at + 0.1)
        rate_text, rate = number(node, "rate", "rate", 2e5, 5e5)
        says = f" rate={rate_text}" if springs else ""
        lines.append(f" axle at={at_text}{says}{node.says}")
        axles.append((station, rate / GRAVITY))
        at += draw.uniform(0.8, 1.1)
    level_node = Node(draw, ["length"])
    level_text, level = number(level_node, "level-at", "length", 0.48, 0.57)
    suspension = f' suspension "independent" level-at={level_text}{level_node.says}' if springs else ' suspension "equalized"'
    deck = Node(draw, ["length"])
    from_text, deck_from = number(deck, "from", "length", 1.0, 1.8)
    length_text, deck_length = number(deck, "length", "length", 5.5, 7.5)
    coupler = "gooseneck" if kind == "gooseneck" else "ball"
    out.append(
        f'trailer "r" {{\n empty tongue={tongue_text} axles={axles_text}{empty.says}\n coupler "{coupler}"\n'
        + "\n".join(lines)
        + f"\n{suspension}\n deck from={from_text} length={length_text}{deck.says}\n}}"
    )

    aboard, on_deck = [], []

    def place(node, name, weight, front, arm, rear, backward):
        """Puts something on the deck: arms of its front, centre of gravity and rear ahead of its datum."""
        word = draw.choice(["front-gap", "rear-gap"])
        text, gap = number(node, word, "length", 0.2, 2.5)
        ahead, behind = (-rear, front) if backward else (front, -rear)
        datum = gap + ahead if word == "front-gap" else deck_length - gap - behind
        cg = datum + arm if backward else datum - arm
        figures[f"item[{name}].weight"] = weight
        figures[f"item[{name}].cg"] = cg
        figures[f"item[{name}].front_gap"] = datum - ahead
        figures[f"item[{name}].rear_gap"] = deck_length - datum - behind
        on_deck.append((weight, deck_from + cg))
        return f"{word}={text}"

    for at in range(draw.choice([0, 1, 2])):
        node, name = Node(draw, ["mass", "length"]), f"crate {at}"
        weight_text, weight = number(node, "weight", "mass", 200, 1500)
        long_text, long = number(node, "length", "length", 1.0, 2.5)
        if draw.random() < 0.5:
            cg_text, cg = number(node, "cg-from-front", "length", 0.3, 0.9)
            cg_text = f" cg-from-front={cg_text}"
        else:
            cg_text, cg = "", long / 2
        gap = place(node, name, weight, 0.0, -cg, -long, False)
        aboard.append(f' cargo "{name}" weight={weight_text} length={long_text}{cg_text} {gap}{node.says}')

    for at in range(draw.choice([0, 1, 1])):
        name, parts = f"machine-{at}", []
        outline = Node(draw, ["length"])
        front_text, nose = number(outline, "front", "length", 1.8, 2.6)
        rear_text, tail = number(outline, "rear", "length", -1.2, -0.4)
        if draw.random() < 0.5:
            one, other, wheelbase = Node(draw, ["mass"]), Node(draw, ["mass"]), Node(draw, ["length"])
            one_text, on_front = number(one, "weighed", "mass", 600, 1200)
            other_text, on_rear = number(other, "weighed", "mass", 600, 1500)
            base_text, base = number(wheelbase, "wheelbase", "length", 1.0, 1.6)
            weight, moment = on_front + on_rear, on_front * base
            parts += [f'axle "front" weighed={one_text}{one.says}', f'axle "rear" weighed={other_text}{other.says}']
            parts += [f"wheelbase {base_text}{wheelbase.says}"]
        else:
            whole, balance = Node(draw, ["mass"]), Node(draw, ["length"])
            weight_text, weight = number(whole, "weight", "mass", 1200, 2800)
            arm_text, arm = number(balance, "cg arm", "length", 0.5, 1.1)
            moment = weight * arm
            parts += [f"weight {weight_text}{whole.says}", f"cg arm={arm_text}{balance.says}"]
            parts += ["tracks contact-length=(m)1.6 gauge=(m)1.2"]
        inside = ""
        if draw.random() < 0.6:
            tool, reach = Node(draw, ["mass"]), Node(draw, ["length"])
            tool_text, tool_weight = number(tool, "weight", "mass", 60, 250)
            arm_text, arm = number(reach, "arm", "length", 1.0, 1.7)
            out.append(
                f'attachment "tool" {{\n weight {tool_text}{tool.says}\n arm {arm_text}{reach.says}\n outline width=(m)1.5\n}}'
            )
            how = draw.choice(["on", "off", "both"])
            if how != "on":
                # It was on the scale with it.
                parts += ['weighed-with "tool"']
                weight, moment = weight - tool_weight, moment - tool_weight * arm
            if how != "off":
                inside = ' { fit "tool"; }'
                weight, moment = weight + tool_weight, moment + tool_weight * arm
        out.append(
            f'machine "{name}" {{\n ' + "\n ".join(parts) + f"\n outline front={front_text} rear={rear_text}{outline.says}\n}}"
        )
        node, backward = Node(draw, ["length"]), draw.random() < 0.5
        gap = place(node, name, weight, nose, moment / weight, tail, backward)
        facing = "backward" if backward else "forward"
        aboard.append(f' machine "{name}" facing="{facing}" {gap}{node.says}{inside}')

    if draw.random() < 0.4:
        node = Node(draw, ["volume", "length"])
        out.append('material "fill" {\n density "dry" low=("kg/m3")1400 high=("kg/m3")1600\n}')
        volume_text, volume = number(node, "volume", "volume", 0.4, 1.2)
        long_text, long = number(node, "length", "length", 2.0, 3.0)
        gap = place(node, "fill", volume * 1600.0, 0.0, -long / 2, -long, False)
        aboard.append(f' bulk "fill" volume={volume_text} moisture="dry" length={long_text} {gap}{node.says}')

    in_truck = []
    for at in range(draw.choice([0, 1, 2])):
        node = Node(draw, ["mass", "length"])
        weight_text, weight = number(node, "weight", "mass", 40, 400)
        ahead_text, ahead = number(node, "ahead-of-rear-axle", "length", 0.1, 1.2)
        in_truck.append((weight, ahead))
        aboard.append(f' aboard-truck "chest {at}" weight={weight_text} ahead-of-rear-axle={ahead_text}{node.says}')

    # The trailer by itself, its bars loose.
    load = sum(w for w, _ in on_deck)
    moment = sum(w * s for w, s in on_deck)
    gross = tongue0 + axles0 + load
    n = len(axles)
    if springs:
        stiff = sum(k for _, k in axles)
        first = sum(k * s for s, k in axles)
        second = sum(k * s * s for s, k in axles)
        pressed = level - height
        slope = (moment - pressed * first) / second
        forces = [axles0 * k / stiff + k * (pressed + slope * s) for s, k in axles]
        effective = second / first
        gains = [k * s / second for s, k in axles]
    else:
        effective = sum(s for s, _ in axles) / n
        group = axles0 + moment / effective
        forces = [group / n] * n
        gains = [1 / effective / n] * n
    tongue = gross - sum(forces)

    # Coupled.
    carried = sum(w for w, _ in in_truck)
    alone = front + sum(w * d for w, d in in_truck) / wb
    couple = 0.0
    if kind == "weight-distributing":
        couple = restores * tongue * oh * effective / (oh + effective)
    ball = tongue - couple / effective
    front_load = alone - ball * oh / wb + couple / wb
    truck = front + rear + carried + ball
    axle_loads = [force + couple * gain for force, gain in zip(forces, gains)]
    figures |= {
        "trailer.gross": gross,
        "trailer.tongue": tongue,
        "trailer.tongue_share": tongue / gross,
        "trailer.axles.load": sum(axle_loads),
        "truck.ball_load": ball,
        "truck.gross": truck,
        "truck.front_share": front_load / truck,
        "truck.front_kept": front_load / alone,
        "truck.axle[front].load": front_load,
        "truck.axle[rear].load": truck - front_load,
        "combination.gross": front + rear + carried + gross,
    }
    for at, axle in enumerate(axle_loads):
        figures[f"trailer.axle[{at + 1}].load"] = axle
    value = lambda figure: getattr(figure, "nominal_value", figure)
    if value(tongue) < 20 or min(map(value, axle_loads + forces)) < 20 or value(front_load) < 20:
        return None
    text = "\n".join(out) + '\nsheet "job" {\n truck "t"\n trailer "r"\n' + "\n".join(aboard) + "\n}\n"
    return {"text": text, "figures": {name: [value(one), getattr(one, "std_dev", 0.0)] for name, one in figures.items()}}


if __name__ == "__main__":
    asked = json.load(sys.stdin)
    draw, sheets = random.Random(asked["seed"]), []
    while len(sheets) < asked["sheets"]:
        one = sheet(draw)
        # A tongue that lifts or a wheel that hangs free is another set of equations, which this leaves to SymPy.
        if one is not None:
            sheets.append(one)
    json.dump(sheets, sys.stdout)
