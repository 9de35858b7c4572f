"""Valve springs: how stiff they are, how hard they push, how far they stay from coil bind.

A spring is met at three heights, each from its seat to the underside of the retainer:

    installed_height                 valve shut; it pushes with seat_load
    installed_height - valve_lift    valve open; it pushes with open_load
    spring_solid_height              coils touch; nothing may bring it here

Names   A law and its arguments carry the catalogue ids of the things they stand for.
Units   The inside set, written once, in the annotations; brackets in a first line repeat the result's.
Shapes  Numbers or arrays, broadcast together; the result has their common shape. Only + - * /
        and comparisons touch them, so exact fractions and dual numbers pass through as well.
Errors  OutsideLaw, naming the value and what to check.
"""

from witnessmark.mechanics.law import Force, Length, Rate, require


def spring_rate(tall_height: Length, tall_load: Force, short_height: Length, short_load: Force) -> Rate:
    """Rate found on the tester from two heights and their loads, both inside the working range [N/mm].

    The spring is taken as linear between the two heights. Coils that close one after another make it stiffer
    towards bind; a height close to bind then gives a rate that is too high for the seat.

    Source: derived from the definition of a rate.
    """
    require(
        tall_height > short_height,
        "tall_height {tall:g} mm is not above short_height {short:g} mm: were the two readings exchanged?",
        tall=tall_height,
        short=short_height,
    )
    return (short_load - tall_load) / (tall_height - short_height)


def seat_load(spring_rate: Rate, spring_free_length: Length, installed_height: Length) -> Force:
    """Force that keeps a shut valve on its seat [N].

    The load line is drawn from the free length. Open end coils that close early bend its first part; the cost is
    then the load by which the two test loads miss that line, which a tester shows at once.

    Source: derived from the definition of a rate.
    """
    require(
        installed_height <= spring_free_length,
        "installed_height {height:g} mm exceeds spring_free_length {free:g} mm, so the spring hangs loose: "
        "check both readings",
        height=installed_height,
        free=spring_free_length,
    )
    return spring_rate * (spring_free_length - installed_height)


def open_load(seat_load: Force, spring_rate: Rate, valve_lift: Length) -> Force:
    """Force on the retainer at full lift [N].

    Source: derived from the definition of a rate.
    """
    require(
        valve_lift >= 0,
        "valve_lift {lift:g} mm is below nothing: was the indicator zeroed with the valve shut?",
        lift=valve_lift,
    )
    return seat_load + spring_rate * valve_lift


def coil_bind_clearance(installed_height: Length, valve_lift: Length, spring_solid_height: Length) -> Length:
    """Travel left at full lift [mm]. A negative answer is an answer: by how much the coils come too soon.

    Source: derived; the three heights stand on one line.
    """
    return installed_height - valve_lift - spring_solid_height


def retainer_seal_clearance(retainer_seal_gap: Length, valve_lift: Length) -> Length:
    """Space left between the retainer and the stem seal, or the guide, at full lift [mm].

    A negative answer is an answer: the retainer strikes, and by how much. A valve that sits deeper in its seat raises
    the retainer, so the gap grows by the sink; a thicker seal, a taller guide or more lift take from it one for one.

    Source: derived; gap and lift stand on the stem's line.
    """
    require(
        valve_lift >= 0,
        "valve_lift {lift:g} mm is below nothing: was the indicator zeroed with the valve shut?",
        lift=valve_lift,
    )
    return retainer_seal_gap - valve_lift
