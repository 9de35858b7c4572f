"""Cam drive: how much a chain has grown, and what that does to timing and to a free span.

Units, shapes and errors as in `spring`; angles in radian, of the crank or of the cam as named.
"""

from witnessmark.mechanics.law import Angle, Length, Pure, require


def chain_elongation(chain_length: Length, chain_length_new: Length) -> Pure:
    """Growth of a chain as a share of its length when new, over the same number of links under the same pull [1].

    A small negative answer is an answer: the pull was smaller, or the chain is new and at the short end of its make.

    Source: derived from the definition; common practice renews timing chains by it.
    """
    require(
        chain_length_new > 0,
        "chain_length_new {new:g} mm must be above nothing: which length has the book for this number of links?",
        new=chain_length_new,
    )
    return (chain_length - chain_length_new) / chain_length_new


def chain_retard(chain_elongation: Pure, tight_span: Length, cam_sprocket_radius: Length) -> Angle:
    """Angle of the CRANK by which a grown chain lets the camshaft lag [rad].

    `tight_span` is the length of the pulling side from crank sprocket to cam sprocket, `cam_sprocket_radius` its pitch
    radius. Links that lie on the teeth are taken at their new pitch, for the teeth hold them there.

    Source: derived: the excess of the span over the radius is the cam angle, and the crank turns twice as far.
    """
    require(
        cam_sprocket_radius > 0,
        "cam_sprocket_radius {radius:g} mm must be above nothing: is it half the pitch diameter?",
        radius=cam_sprocket_radius,
    )
    return 2 * chain_elongation * tight_span / cam_sprocket_radius


def span_sag(excess: Length, span: Length) -> Length:
    """Depth to which a free span hangs when its chain is longer than the span by `excess` [mm].

    A shallow parabola: its arc exceeds its chord by 8/3 sag^2 / span. The sag grows with the root of the excess, so a
    limit on slack covers a wide range of wear.

    Source: derived.
    """
    return _shallow(excess, span, 3 / 8)


def span_pushed(excess: Length, span: Length) -> Length:
    """Way by which a finger pushes the middle of a free span when its chain is longer by `excess` [mm].

    Two straight halves in a shallow V: together they exceed the span by 2 push^2 / span.

    Source: derived.
    """
    return _shallow(excess, span, 1 / 2)


def _shallow(excess: Length, span: Length, share: float) -> Length:
    require(
        (excess >= 0) & (excess <= 0.05 * span),
        "an excess of {excess:g} mm over a span of {span:g} mm is more than a slack chain has, a twentieth at most: "
        "were the two exchanged?",
        excess=excess,
        span=span,
    )
    return (share * excess * span) ** 0.5
