"""Random machines driven up random ramps: sheets, and what is least or most on the way by `climb_sweep.py`
(wheels) and `climb_tracks.py`.

Reads {"seed", "sheets"} from standard input and writes for each of so many sheets {text, weight, possible, loading}:
`loading` holds, for each machine by its label, the figures in SI (kg, m, degrees) under their names, and `weight` the
machine's weight with its attachments. Of an impossible climb (a ramp shorter than it has to rise) `loading` is empty.

Coupler: T = T0 + sum of W (sa - s)/sa over what is aboard already + the machine's own part; truck's rear axle:
R0 + sum of w (1 - d/wb) + T (1 + oh/wb).
"""

import json
import math
import random
import sys

from climb_sweep import Climb, Machine, Profile
from climb_tracks import TrackClimb, Tracked

LB, INCH = 0.45359237, 0.0254
UNITS = {"length": [("mm", 0.001), ("in", INCH), ("m", 1.0)], "mass": [("kg", 1.0), ("lb", LB)]}


class Draw(random.Random):
    def quantity(self, kind, low, high):
        """A number as a sheet writes it, and its value as written."""
        symbol, factor = self.choice(UNITS[kind])
        value = float(f"{self.uniform(low, high) / factor:.6g}")
        return f"({symbol}){value!r}", value * factor

    def length(self, low, high):
        return self.quantity("length", low, high)

    def mass(self, low, high):
        return self.quantity("mass", low, high)

    def angle(self, low, high):
        value = round(self.uniform(low, high), 3)
        return f"(deg){value!r}", math.radians(value)

    def often(self, share):
        return self.random() < share


def underside(draw, low, high, floor, most):
    """Points and flat spans in order of arm, from the rear: lines of the sheet, and a chain."""
    marks = sorted(draw.uniform(low, high) for _ in range(2 * draw.randint(1, most)))
    lines, chain = [], []
    for number, (start, stop) in enumerate(zip(marks[::2], marks[1::2])):
        clear_text, clear = draw.length(floor, floor + draw.choice([0.05, 0.4]))
        if stop - start > 0.03 and draw.often(0.5):
            (from_text, a), (to_text, b) = draw.length(start, start + 0.005), draw.length(stop - 0.005, stop)
            lines.append(f'flat "part {number}" from={from_text} to={to_text} clearance={clear_text}')
            chain += [(a, clear), (b, clear)]
        else:
            arm_text, arm = draw.length(start, stop)
            lines.append(f'point "part {number}" arm={arm_text} clearance={clear_text}')
            chain.append((arm, clear))
    # The order of writing says nothing.
    draw.shuffle(lines)
    return "underside {\n  " + "\n  ".join(lines) + "\n }", chain


def carried_out(chain, rear, front):
    ends = ([(rear, chain[0][1])] if rear is not None and rear < chain[0][0] else [])
    return ends + chain + ([(front, chain[-1][1])] if front is not None and front > chain[-1][0] else [])


def wheels(draw):
    """Words, the span on the ground, how far it reaches beyond, and numbers."""
    base_text, base = draw.length(0.9, 2.4)
    low, high = draw.choice([(0.02, 0.03), (0.12, 0.35), (0.2, 0.6)])
    high = min(high, 0.45 * base)
    front_text, front_radius = draw.length(low, high)
    rear_text, rear_radius = (front_text, front_radius) if draw.often(0.5) else draw.length(low, high)
    weight, share = draw.uniform(500, 4000), draw.uniform(0.35, 0.65)
    one_text, on_front = draw.mass(weight * share, weight * share + 1)
    two_text, on_rear = draw.mass(weight * (1 - share), weight * (1 - share) + 1)
    lines = [
        f'axle "front" weighed={one_text} wheel-radius={front_text}',
        f'axle "rear" weighed={two_text} wheel-radius={rear_text}',
        f"wheelbase {base_text}",
    ]
    cg_height = None
    if draw.often(0.85):
        height_text, cg_height = draw.length(0.2, 0.55 * base)
        lines.append(f"cg-height {height_text}")
    numbers = {"wheelbase": base, "front_radius": front_radius, "rear_radius": rear_radius, "cg_height": cg_height}
    return lines, base, (front_radius, rear_radius), (on_front + on_rear, on_front * base), numbers


def tracks(draw):
    """The same, on tracks."""
    contact_text, contact = draw.length(1.0, 2.4)
    weight_text, weight = draw.mass(800, 4500)
    arm_text, arm = draw.length(0.35 * contact, 0.65 * contact)
    height_text, cg_height = draw.length(0.2, 0.5 * contact)
    lines = [
        f"weight {weight_text}",
        f"cg arm={arm_text} height={height_text}",
        f"tracks contact-length={contact_text} gauge=(m)1.2",
    ]
    return lines, contact, (0.0, 0.0), (weight, weight * arm), {"contact": contact, "cg_height": cg_height}


def machine(draw, name):
    """A machine, perhaps with an attachment before or behind: its text, what goes inside the item, its numbers."""
    lines, base, (ahead, behind), (weight, moment), numbers = tracks(draw) if draw.often(0.25) else wheels(draw)
    nose_text, nose = draw.length(base + ahead + 0.02, base + ahead + 1.0)
    tail_text, tail = draw.length(-behind - 1.0, -behind - 0.02)
    under, chain = underside(draw, tail, nose, draw.uniform(0.05, 0.35), 4)
    chains = [carried_out(chain, tail, nose)]
    lines += [f"outline front={nose_text} rear={tail_text}", under]
    texts, inside, foremost, rearmost = [], "", nose, tail
    if draw.often(0.45):
        weight_text, tool = draw.mass(40, 0.12 * weight)
        before = draw.often(0.7)
        where = (nose - 0.1, nose + 0.6) if before else (tail - 0.6, tail + 0.1)
        arm_text, arm = draw.length(*where)
        ends, reach = "", [None, None]
        if draw.often(0.8):
            if before:
                end_text, reach[1] = draw.length(max(nose, arm) + 0.02, max(nose, arm) + 0.5)
                ends += f" front={end_text}"
            else:
                end_text, reach[0] = draw.length(min(tail, arm) - 0.5, min(tail, arm) - 0.02)
                ends += f" rear={end_text}"
        else:
            # Nothing beyond the machine; the arm then lies within it.
            arm_text, arm = draw.length(base * 0.3, base * 0.7)
        span = (nose - 0.3, reach[1] or nose) if before else (reach[0] or tail, tail + 0.3)
        tool_under, tool_chain = underside(draw, *span, draw.uniform(0.08, 0.5), 2)
        outline = f" outline{ends}\n" if ends else ""
        texts.append(f'attachment "tool of {name}" {{\n weight {weight_text}\n arm {arm_text}\n{outline} {tool_under}\n}}')
        if draw.often(0.3):
            lines.append(f'weighed-with "tool of {name}"')
            weight, moment = weight - tool, moment - tool * arm
        if draw.often(0.8):
            inside = f' {{ fit "tool of {name}"; }}'
            weight, moment = weight + tool, moment + tool * arm
            chains.append(carried_out(tool_chain, *reach))
            foremost, rearmost = max(foremost, reach[1] or nose), min(rearmost, reach[0] or tail)
    texts.append(f'machine "{name}" {{\n ' + "\n ".join(lines) + "\n}")
    numbers |= {"chains": chains, "weight": weight, "arm": moment / weight}
    return texts, inside, numbers, foremost, rearmost


def sheet(draw):
    """One sheet, or nothing where an end of it would hardly bear, or it would not stand on the level deck."""
    (f_text, front), (r_text, rear) = draw.mass(1500, 2500), draw.mass(1200, 2200)
    (wb_text, wb), (oh_text, oh) = draw.length(3.2, 4.6), draw.length(0.8, 1.7)
    out = [
        f'truck "t" {{\n axle "front" weighed={f_text}\n axle "rear" weighed={r_text}\n wheelbase {wb_text}\n'
        f' hitch "ball" behind-rear-axle={oh_text}\n}}'
    ]
    aboard = []
    if draw.often(0.4):
        (weight_text, weight), (ahead_text, ahead) = draw.mass(40, 400), draw.length(0.1, 1.2)
        aboard.append(f' aboard-truck "chest" weight={weight_text} ahead-of-rear-axle={ahead_text}')
        rear += weight * (1 - ahead / wb)

    (tongue_text, tongue), (axles_text, axles) = draw.mass(100, 400), draw.mass(800, 2000)
    (from_text, start), (long_text, long) = draw.length(1.0, 1.8), draw.length(6.0, 9.0)
    stations, lines = [], []
    for number in range(draw.choice([1, 2, 2, 3])):
        at_text, at = draw.length(start + 0.58 * long + 0.9 * number, start + 0.6 * long + 0.9 * number)
        stations.append(at)
        lines.append(f" axle at={at_text}")
    group = sum(stations) / len(stations)
    height_text, height = draw.length(0.35, 0.95)
    dovetail, inner, tilt, hinge, bed = None, "", 0.0, 0.0, ""
    if draw.often(0.3):
        along = draw.length(0.4, 1.4)
        drop = draw.length(0.02, min(0.3 * along[1], height - 0.15))
        dovetail = along[1], drop[1]
        inner = f"  dovetail length={along[0]} drop={drop[0]}\n"
    if draw.often(0.35):
        hinge_text, hinge = draw.length(0.0, 3.0)
        room = height - (dovetail[1] if dovetail else 0.0) - 0.05
        tilt_text, tilt = draw.angle(0.5, min(12.0, math.degrees(math.asin(min(1.0, room / max(hinge, 0.3))))))
        if draw.often(0.5):
            inner += f"  tilt-deck hinge-from-rear={hinge_text}\n"
        else:
            bed = f" tip-bed hinge-from-rear={hinge_text}\n"
    rise_text, foot_rise = draw.length(-0.2, 0.3) if draw.often(0.5) else ("", 0.0)
    edge = Profile(height, long, 1e3, 0.0, dovetail, tilt, hinge).rise
    climb = edge - foot_rise
    if climb < 0.03:
        return None
    short = draw.often(0.08)
    steep = draw.uniform(4.0, 34.0)
    reach = climb * draw.uniform(0.5, 0.95) if short else climb / math.sin(math.radians(steep))
    if not 0.2 < reach < 9.9:
        return None
    ramp_text, ramp = draw.length(reach, reach)
    count = draw.choice([1, 2, 2])
    out.append(
        f'trailer "r" {{\n empty tongue={tongue_text} axles={axles_text}\n coupler "ball"\n' + "\n".join(lines)
        + f'\n suspension "equalized"\n deck from={from_text} length={long_text} height={height_text} {{\n{inner} }}\n'
        + f"{bed} ramp length={ramp_text} count={count}\n}}"
    )
    profile = Profile(height, long, ramp, foot_rise, dovetail, tilt, hinge)

    # On the deck: (front edge to its front, weight, centre of gravity behind the deck's front edge and above it).
    on_deck, climbers = [], []
    for number in range(draw.choice([0, 0, 1, 2])):
        (weight_text, weight), (size_text, size) = draw.mass(100, 1200), draw.length(0.5, 2.0)
        gap_text, gap = draw.length(0.0, long - size)
        # Where its height is not given, the tilt of a bed moves it as if it lay flat on the deck.
        up_text, up = draw.length(0.1, 0.9) if draw.often(0.5) else ("", 0.0)
        up_text = f" cg-height={up_text}" if up else ""
        aboard.append(f' cargo "crate {number}" weight={weight_text} length={size_text} front-gap={gap_text}{up_text}')
        on_deck.append((gap, weight, gap + size / 2, up))
    for number in range(draw.choice([1, 1, 1, 2])):
        name = f"machine-{number}"
        texts, inside, numbers, foremost, rearmost = machine(draw, name)
        backward = draw.often(0.5)
        out += texts
        ahead, behind = (-rearmost, -foremost) if backward else (foremost, rearmost)
        room = long - (ahead - behind) - (dovetail[0] if dovetail else 0.0)
        if room < 0.1:
            return None
        if draw.often(0.5):
            gap_text, gap = draw.length(0.0, room)
            datum, word = long - gap - ahead, "front-gap"
        else:
            gap_text, gap = draw.length(long - room - (ahead - behind), long - (ahead - behind))
            datum, word = gap - behind, "rear-gap"
        aboard.append(f' machine "{name}" facing="{"backward" if backward else "forward"}" {word}={gap_text}{inside}')
        arm = numbers["arm"]
        at = long - datum - ahead
        on_deck.append((at, numbers["weight"], long - datum + (arm if backward else -arm), numbers["cg_height"] or 0.0))
        one = (Tracked if "contact" in numbers else Machine)(**numbers, backward=backward)
        if isinstance(one, Tracked) and backward:
            # From the datum to the lower end of the contact.
            datum -= one.contact
        climbers.append((name, one, datum, at))

    largest = max([max(one.low_r, one.high_r) for _, one, _, _ in climbers if isinstance(one, Machine)], default=0.0)
    if largest > 0.95 * ramp:
        return None
    loading = {}
    for name, climber, datum, at in climbers if profile.possible else []:
        if any(other != at and abs(other - at) < 0.01 for other, *_ in on_deck):
            return None
        if isinstance(climber, Tracked):
            if climber.cg_u < climber.cg_height * math.tan(profile.angle) + 0.03:
                return None
            found = TrackClimb(profile, climber).sweep(datum, (group, start + long))
        else:
            found = Climb(profile, climber).sweep(datum, (group, start + long))
            if found["lightest"] < 0.03 * climber.weight:
                return None
        least = tongue + min(0.0, found["own"][0])
        for other, weight, cg, up in on_deck:
            if other < at:
                least += weight * (group - start - long + profile.turned(long - cg, height + up)[0]) / group
        loading |= {
            f"loading[{name}].ramp_angle": math.degrees(profile.angle),
            f"loading[{name}].clearance": found["gap"][0],
            f"loading[{name}].tongue_least": least,
            f"loading[{name}].truck_rear_axle_least": rear + least * (1 + oh / wb),
            f"loading[{name}].ramp_load": found["ramps"][0] / count,
            f"loading[{name}].stands_load": found["moment"][0] / (start + long),
        }
    conditions = [f"bed-tilt {tilt_text}"] if tilt else []
    conditions += [f"foot-rise {rise_text}"] if rise_text else []
    if conditions:
        aboard.append(" loading { " + "; ".join(conditions) + " }")
    text = "\n".join(out) + '\nsheet "job" {\n truck "t"\n trailer "r"\n' + "\n".join(aboard) + "\n}\n"
    heaviest = max(climber.weight for _, climber, _, _ in climbers)
    return {"text": text, "weight": heaviest, "possible": profile.possible, "loading": loading}


def sheets(seed, count):
    draw, made = Draw(seed), []
    while len(made) < count:
        one = sheet(draw)
        if one is not None:
            made.append(one)
    return made


if __name__ == "__main__":
    question = json.load(sys.stdin)
    json.dump(sheets(question["seed"], question["sheets"]), sys.stdout)
