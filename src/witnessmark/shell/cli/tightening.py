"""`tighten`: a joint as a table, or as data; the setting behind an extension."""

import sys
from pathlib import Path

from witnessmark.desk.clamp import dial_of, numbers_of
from witnessmark.desk.state import State, state
from witnessmark.desk.tighten import joints
from witnessmark.desk.tighten_data import tighten_data
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.cli.saying import machine
from witnessmark.shell.resources import catalogue


def tighten(
    job: str, data: Path, *, as_json: bool, joint: str, loosen: bool, wrench: str, extension: str, angle: str,
    hand: str = "",
) -> int:  # fmt: skip
    """Print how a joint is tightened or loosened and how far it is; the exit status."""
    opened = state(replay(events_of(job, data)), catalogue())
    found = tighten_data(opened, joint, "loosen" if loosen else "tighten")
    dials = _dials(opened, found["joint"], (wrench, extension, angle, hand)) if extension else []
    if as_json:
        machine({**found, "dial": dials} if extension else found)
    else:
        _print(opened, found, dials)
    return 0


def _dials(opened: State, joint: str, told: tuple[str, str, str, str]) -> list[dict[str, str]]:
    """The setting for each torque stage; Refused where lever or extension cannot be read."""
    stages = [one for one in joints(opened)[joint].stages if one.kind in ("torque", "again")]
    wrench, extension, angle, hand = told
    made = [(stage, dial_of(opened, wrench, stage, extension, angle, hand)) for stage in stages]
    return [{"stage": f"{stage.value} {stage.unit}", "dial": dial.text, "said": dial.said, "advice": dial.advice}
            for stage, dial in made]  # fmt: skip


def _print(opened: State, found: dict[str, object], dials: list[dict[str, str]]) -> None:
    from rich.console import Console

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 140)

    def say(words: object) -> None:
        console.print(str(words), markup=False)

    say(f"{opened.job.id} · {found['term']} · {found['stands']}")
    stages, bolts = found["stages"], found["bolts"]
    assert isinstance(stages, list)
    assert isinstance(bolts, list)
    for n, stage in enumerate(stages, 1):
        when = f", {stage['when']}" if stage["when"] else ""
        say(f"  {n}  {stage['words']}{when}: {' '.join(stage['order'])}   ({stage['done']} of {len(stage['order'])})")
    say("The order is worked out from the places of the bolts." if found["order_worked_out"] else
        "The order is that of the sheet.")  # fmt: skip
    by_name = {bolt["bolt"]: bolt for bolt in bolts}
    names = dict.fromkeys(one for stage in stages for one in stage["order"] if one in by_name)
    for bolt in (by_name[one] for one in names):
        turned = ", ".join(f"{turn['stage']}{' ' + turn['final_torque'] if turn['final_torque'] else ''}"
                           for turn in bolt["turns"])  # fmt: skip
        doubt = f"  IN DOUBT: {bolt['doubt']}" if bolt["doubt"] else ""
        say(f"  bolt {bolt['bolt']:>3}  {bolt['where']:30} {'stages ' + turned if turned else '–'}{doubt}")
    renew = found["renew"]
    assert isinstance(renew, dict)
    say(f"Bolts: {renew['said']}. {renew['why'][:1].upper()}{renew['why'][1:]}.")
    for term, words in numbers_of(joints(opened)[str(found["joint"])]):
        say(f"  {term}: {words}")
    for dial in dials:
        say(f"Dial in {dial['dial']}: {dial['said']}{'. ' + dial['advice'] if dial['advice'] else ''}")
    for name in ("warnings", "cautions"):
        lines = found[name]
        assert isinstance(lines, list)
        for words in lines:
            say(f"! {words}")
    say("Stages, order and re-use are those you entered; service information governs.")
