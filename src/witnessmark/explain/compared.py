"""A comparison of two gauges in one sentence."""

from witnessmark.judge.compared import Compared


def compared_words(found: Compared) -> str:
    """What two gauges read on one part, and what follows; readings as they were typed."""
    one = found.comparison
    read = f"{one.first} read {one.first_read} and {one.second} read {one.second_read} {one.unit} on {one.on}"
    if found.score is None:
        return f"{read}; nothing follows from that: {found.problem}."
    score = "far beyond 1" if abs(found.score) > 99 else f"{abs(found.score):.1f}"
    if not found.agree:
        return (
            f"{read}: E_n {score}, more than both their doubts allow. One of them is wrong; try a third, or a master."
        )
    if found.stated:
        return f"{read}: E_n {score}, so they agree within their doubts."
    return f"{read}: E_n {score}; but of one only the step is known, so enter its calibration before you rely on this."
