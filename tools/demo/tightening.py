"""How the joints of the invented heads are tightened: the last section of each limit sheet."""

from collections.abc import Iterable


def bolts(places: Iterable[str]) -> str:
    """`1: [188, 49]` and so on, from places in the order of the numbers."""
    return "{" + ", ".join(f"{n}: [{one}]" for n, one in enumerate(places, 1)) + "}"


def numbers(last: int) -> str:
    """[1, 2, ... last]."""
    return f"[{', '.join(map(str, range(1, last + 1)))}]"


def cylinders(several: Iterable[int]) -> str:
    """`1: 2.5, 3: 6.8` and so on: the cylinders of a bank of the Egret where they stand, in inches."""
    return ", ".join(f"{n}: {x}" for n, x in zip(several, (2.5, 6.8, 11.2, 15.5), strict=True))


TERN_HEAD = ("188, 49", "188, -49", "282, -49", "282, 49", "94, 49", "94, -49", "376, -49", "376, 49", "0, 49", "0, -49")
TERN_CAPS = tuple(f"{x}, {y}" for x in (18, 96, 188, 280, 358) for y in (14, -14))
EGRET_HEAD = ("9.0, 0, long", "9.0, 3.9, short", "4.6, 0, long", "4.6, 3.9, short", "13.4, 3.9, short", "13.4, 0, long",
              "17.6, 0, long", "17.6, 3.9, short", "0.4, 3.9, short", "0.4, 0, long")  # fmt: skip
PETREL_HEAD = tuple(f"{x}, {y}" for x in (0, 86, 172, 258, 344) for y in (46, -46))

TERN = f"""\
tightening:
  head:
    term: head bolts
    thread: M10x1.5
    strength: 10.9
    threads: oiled
    stretch_bolts: yes
    reuse: by length
    any_out: all new
    bolts: {bolts(TERN_HEAD)}
    order: {numbers(10)}
    cylinders: [47, 141, 235, 329]
    stages: [{{torque: 25, unit: N·m}}, {{angle: 90}}, {{angle: 90}}]
    bolt: {{segments: [[70, 10.0], [30, thread]], held: tapped, bearing: 13.5, joint_rate: 300000}}
    page: 58
""" + "".join(f"""\
  cam_caps_{side}:
    term: {term} cam caps
    thread: M6
    strength: 8.8
    threads: oiled
    stretch_bolts: no
    reuse: yes
    caps: yes
    bolts: {bolts(TERN_CAPS)}
    stages: [{{torque: 10, unit: N·m}}]
    page: 59
""" for side, term in (("inl", "inlet"), ("exh", "exhaust")))

EGRET = "tightening:\n" + "".join(f"""\
  {side}_head:
    term: head bolts, {side} bank
    thread: 7/16-14 UNC
    threads: sealant
    stretch_bolts: no
    reuse: yes
    unit: in
    bolts: {bolts(EGRET_HEAD)}
    order: {numbers(10)}
    cylinders: {{{cylinders(numbers_)}}}
    stages:
      - {{torque: 30, unit: lbf·ft}}
      - {{torque: 50, unit: lbf·ft}}
      - {{torque: 70, unit: lbf·ft, for: long}}
      - {{torque: 65, unit: lbf·ft, for: short}}
      - {{torque: 70, unit: lbf·ft, for: long, again: "after the first warm-up, cold again"}}
      - {{torque: 65, unit: lbf·ft, for: short, again: "after the first warm-up, cold again"}}
    page: 6-14
""" for side, numbers_ in (("left", (1, 3, 5, 7)), ("right", (2, 4, 6, 8))))

WREN = """\
tightening:
  head:
    term: head nuts
    thread: M8x1.25
    strength: 8.8
    threads: oiled
    stretch_bolts: no
    reuse: yes
    bolts: {1: [0, 32], 2: [64, -32], 3: [64, 32], 4: [0, -32]}
    order: [1, 2, 3, 4]
    cylinders: [32]
    stages: [{torque: 12, unit: N·m}, {torque: 22, unit: N·m}]
    bolt: {segments: [[88, 8.0], [8, thread]], held: nut, bearing: 11.5, joint_rate: 180000}
    page: 21
"""

PETREL = f"""\
tightening:
  head:
    term: head bolts
    thread: M11x1.5
    strength: 10.9
    threads: oiled
    stretch_bolts: yes
    reuse: once
    bolts: {bolts(PETREL_HEAD)}
    cylinders: [43, 129, 215, 301]
    stages: [{{torque: 40, unit: N·m}}, {{angle: 90}}, {{angle: 75}}]
    bolt: {{segments: [[82, 9.2], [28, thread]], held: tapped, bearing: 15.0, joint_rate: 340000}}
    page: 33
  cam_carrier:
    term: cam carrier bolts
    thread: M8
    strength: 8.8
    threads: dry
    stretch_bolts: no
    reuse: yes
    bolts: {bolts(f"{x}, {y}" for x in (20, 120, 224, 324) for y in (30, -30))}
    stages: [{{torque: 10, unit: N·m}}, {{torque: 20, unit: N·m}}]
    page: 34
"""

TEXT = {"tern": TERN, "egret": EGRET, "wren": WREN, "petrel": PETREL}
