"""Keys at the bolts: what each makes, what is refused and why, and what the sheet shows of it."""

from dataclasses import replace

import pytest

from witnessmark.desk import tighten
from witnessmark.desk.bench import Refused
from witnessmark.desk.bolts import bolts_of
from witnessmark.desk.clamp import dial_of, numbers_of, warnings_of
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.tighten import standing_of, tighten_sheet
from witnessmark.desk.sheets.tighten_paper import tighten_paper
from witnessmark.desk.state import Memory, state
from witnessmark.desk.tighten_data import tighten_data
from witnessmark.limits.procedure import procedure
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue

CATALOGUE, MEMORY = catalogue(), Memory()


class Bench:
    """A demo job with its log; every method is one thing that somebody does."""

    def __init__(self, name="tern"):
        self.log = [event.stored(n, "") for n, event in enumerate(demo_events(name), 1)]

    @property
    def state(self):
        return state(replay(self.log), CATALOGUE, memory=MEMORY)

    def do(self, command, *words, by="J. M.", **named):
        n = len(self.log) + 1
        stamp = Stamp(f"k{n}", f"2026-11-26T09:{n % 60:02}:00Z", by, "bench", n)
        made = command(self.state, stamp, *words, **named)
        self.log += [event.stored(len(self.log) + m, "") for m, event in enumerate(made, 1)]
        return made

    def begin(self, joint="head", **more):
        return self.do(tighten.begin, joint, **{"wrench": "W-01", "angle_by": "A-01", **more})[0].id

    def run(self, joint="head"):
        return tighten.run_now(self.state, joint)

    def press(self, line="", joint="head", **more):
        return self.do(tighten.press, self.run(joint).id, line, **more)

    def through(self, stages, joint="head"):
        """Turn every bolt through some stages, in one batch of the log."""
        run = self.run(joint)
        for work in run.works[:stages]:
            for bolt in work.order:
                n = len(self.log) + 1
                body = {"run": run.id, "bolt": bolt, "stage": str(work.number)}
                stamp = Stamp(f"{run.id}:{work.number}:{bolt}:1", f"2026-11-26T10:{n % 60:02}:00Z", "J. M.")
                self.log.append(stamp.event("bolt_turned", body).stored(n, ""))


@pytest.fixture
def bench():
    return Bench()


def refused(call, *words, **named):
    with pytest.raises(Refused) as told:
        call(*words, **named)
    return str(told.value)


def test_a_run_keeps_the_procedure_it_was_begun_with(bench):
    bench.begin()
    text = bench.state.job.limits.text.replace("{angle: 90}, {angle: 90}", "{angle: 45}")
    stamp = Stamp("later", "2026-11-26T12:00:00Z")
    body = {"name": "TN-4", "text": text, "hash": "0" * 64, "based_on": bench.state.job.limits.event}
    bench.log.append(stamp.event("limits_entered", body).stored(len(bench.log) + 1, ""))
    assert len(tighten.joints(bench.state)["head"].stages) == 2
    assert len(bench.run().works) == 3


def test_keys_walk_the_pattern_and_the_sheet_walks_with_them(bench):
    bench.begin()
    for _ in range(10):
        bench.press()
    for torque in ("46", "45", "44", "45", "48", "46"):
        bench.press(torque)
    sheet = tighten_sheet(bench.state, "head")
    assert (sheet.title, sheet.bolt, sheet.where) == ("Head bolts, stage 2: turn 90°", "7", "exhaust side, rear")
    assert [(one.words, one.count, one.look) for one in sheet.stages] == [
        ("25 N·m", "10 of 10", "done"), ("turn 90°", "6 of 10", "here"), ("turn 90°", "–", "")]  # fmt: skip
    assert sheet.said == "The 6 final torques lie together, 44 to 48 N·m."
    assert sheet.back == "46"
    assert standing_of(bench.state, "head") == "16 of 30"


def test_stop_now_then_out_then_a_new_bolt(bench):
    bench.begin()
    bench.through(1)
    for torque in ("46", "45", "44", "31", "48"):
        bench.press(torque)
    sheet = tighten_sheet(bench.state, "head")
    assert sheet.stop[0].startswith("Stop. Bolt 4 fell behind the others")
    assert sheet.stop[1] == "31 N·m, the others 44 to 48 · 14.5 under their middle, 3 × 1.48 allowed"
    assert sheet.main == "bolt 4 is out"
    assert "bolt 4 comes first" in refused(bench.press)
    assert "first say that bolt 4 is out" in refused(bench.press, "*1")
    bench.do(tighten.doubt, bench.run().id, "4", "unlike the others")
    bench.press("*2")
    assert bench.run().next == (1, "4")
    assert bench.run().bolts["4"].renewed == 1


def test_take_back_names_and_takes_the_last_thing_and_the_bolt_is_turned_again(bench):
    bench.begin()
    bench.press()
    first = bench.press()[0].id
    bench.press("*")
    assert bench.run().next == (1, "2")
    assert bench.press()[0].id == f"{first}~2"  # the store still holds what was taken back
    bench.press("*")
    bench.press("*")
    assert bench.run().next == (1, "1")
    assert "nothing of this run" in refused(bench.press, "*")


def test_a_stale_page_turns_no_bolt_and_tells_who_did(bench):
    bench.begin()
    bench.press(by="A. T.")
    said = refused(bench.press, saw="1.1")
    assert said == "bolt 1 was turned meanwhile by A. T.: bolt 2 is next"
    assert "the run has moved on" in refused(bench.press, saw="2.9")


def test_two_people_at_one_bolt_make_one_name(bench):
    bench.begin()
    now, run = bench.state, bench.run().id
    one, other = (tighten.press(now, Stamp(name, "2026-11-26T09:00:00Z", name), run)[0] for name in ("a", "b"))
    assert one.id == other.id
    assert one != other


@pytest.mark.parametrize(("line", "said"), [
    ("31 potatoes", "cannot be read as a torque"), ("-5", "cannot be read|holds nothing"), ("4544", "was a digit slipped"),
    ("0.4", "was a digit slipped"), ("*7", "no bolt is in doubt"), ("5 mm", "cannot be read as a torque")])  # fmt: skip
def test_a_line_that_cannot_be_meant_is_told_and_turns_nothing(bench, line, said):
    bench.begin()
    bench.through(1)
    told = refused(bench.press, line)
    assert any(one in told for one in said.split("|")), told
    assert bench.run().next == (2, "1")


def test_the_click_of_a_wrench_is_held_to_its_setting(bench):
    bench.begin()
    assert "is not the 25 N·m of this stage" in refused(bench.press, "45")
    bench.press("25.5")


def test_a_lost_angle_offers_no_as_it_is(bench):
    bench.begin()
    bench.through(1)
    bench.press("-")
    sheet = tighten_sheet(bench.state, "head")
    assert "does not count as tight" in sheet.doubt
    assert [one.how for one in sheet.choices] == ["slackened, begun again", "new bolt, begun again"]
    assert "cannot be" in refused(bench.do, tighten.settle, bench.run().id, "1", "looked at, left as it is")
    assert "there is *1" in refused(bench.press, "*3")


def test_a_run_is_not_thrown_away_without_a_word(bench):
    bench.begin()
    bench.press()
    assert "bolt 2 is next" in refused(bench.begin)
    second = bench.begin(note="head came off again")
    assert bench.run().id == second
    assert "a later run" in refused(bench.do, tighten.press, "tighten:head:1")


def test_the_wrong_wrench_is_refused_with_its_range(bench):
    assert "M-07 is a micrometer and no torque wrench" in refused(bench.begin, wrench="M-07")
    bench.begin(wrench="W-small")  # one that is not in the register is taken as it is named
    bench.do(tighten.begin, "cam_caps_inl", wrench="W-01")
    bench.press(joint="cam_caps_inl")
    bench.press(joint="cam_caps_inl")  # 10 N·m is where W-01 begins
    egret = Bench("egret")
    egret.begin("left_head", wrench="W-2", angle_by="")
    body = {"gauge": "W-9", "fields": {"kind": "torque_wrench", "unit": "lbf·ft", "resolution": "1", "reads_to": "25"}}
    egret.log.append(Stamp("w", "").event("gauge_entered", {**body, "based_on": None}).stored(len(egret.log) + 1, ""))
    assert "ends at 25 lbf·ft, and this stage is 30 lbf·ft" in refused(egret.press, joint="left_head", wrench="W-9")


def test_what_is_asked_of_a_joint_that_there_is_not(bench):
    assert "did you mean 'head'" in refused(bench.do, tighten.begin, "hed")
    assert tighten_sheet(bench.state, "hed") is None
    assert "did you mean 'head'" in refused(tighten_data, bench.state, "hed")
    bare = replace(bench.state, sheet=None)
    assert "enter it on the limit sheet" in refused(tighten.begin, bare, Stamp("x", ""), "head")


def test_bolts_again_or_new_by_the_rule_of_the_sheet(bench):
    head = tighten.joints(bench.state)["head"]
    told = bolts_of(bench.state, head)
    assert (told.said, told.order, told.out) == ("10 new", 10, ("7",))
    each = bolts_of(bench.state, replace(head, any_out="each"))
    assert each.order == 1
    assert set(each.open) >= {"9", "10"}  # two were never measured, and are not taken as good
    assert bolts_of(bench.state, replace(head, reuse="once")).order == 10
    assert bolts_of(bench.state, replace(head, reuse="unknown")).said == "ask the book"
    assert bolts_of(bench.state, replace(head, reuse="yes")).order == 0


def test_an_order_that_the_sheet_does_not_give_is_worked_out_and_said():
    petrel = Bench("petrel")
    head = tighten.joints(petrel.state)["head"]
    assert head.worked_out
    assert sorted(head.order) == sorted(head.names())
    assert "worked out" in tighten_sheet(petrel.state, "head").order_words
    petrel.begin(wrench="W-04", angle_by="A-04")
    assert petrel.run().procedure.order == head.order


def test_caps_go_round_evenly_and_those_under_a_lobe_first(bench):
    caps = tighten.joints(bench.state)["cam_caps_inl"]
    assert set(caps.order[:2]) == {"5", "6"}
    first = tighten.worked_out(replace(caps, order=(), pressed=("9",)))
    assert set(first.order[:2]) == {"9", "10"}
    bench.do(tighten.begin, "cam_caps_inl", wrench="W-01")
    sheet = tighten_sheet(bench.state, "cam_caps_inl")
    assert (sheet.bolt, sheet.main) == ("all", "caps are down")
    assert sheet.where.startswith("half a turn each, round after round: ")


def test_the_extension_sets_the_wrench_lower_and_the_wrong_one_is_told(bench):
    stage = tighten.joints(bench.state)["head"].stages[0]
    assert dial_of(bench.state, "W-01", stage, "60 mm").text == "21.7 N·m"  # 25 x 400 / 460
    assert dial_of(bench.state, "W-01", stage, "60 mm", "90").text == "25.0 N·m"
    egret = Bench("egret")
    feet = tighten.joints(egret.state)["left_head"].stages[0]
    assert dial_of(egret.state, "W-2", feet, "4 in").text == "24.0 lbf·ft"  # 30 x 16 / 20
    assert "cannot be read" in refused(dial_of, bench.state, "W-01", stage, "long")
    assert "lever of the wrench" in refused(dial_of, bench.state, "", stage, "60 mm")
    assert "reaches back" in refused(dial_of, bench.state, "W-01", stage, "450 mm", "180")
    assert "this stage has none" in refused(dial_of, bench.state, "W-01", replace(stage, kind="angle"), "60 mm")


def test_another_lubricant_warns_and_changes_no_torque(bench):
    assert warnings_of(bench.state, "head") == ()
    bench.begin(threads="paste")
    (said,) = warnings_of(bench.state, "head")
    assert "meant for threads that are oiled, and these are paste" in said
    assert "No torque is changed" in said
    assert tighten_sheet(bench.state, "head").stages[0].words == "25 N·m"


def test_yield_without_a_stretch_bolt_is_warned_of(bench):
    head = tighten.joints(bench.state)["head"]
    plain = replace(head, stretch_bolts=False)
    memory = Memory()
    memory.once(("joints", bench.state.sheet.hash), lambda: {"head": plain})
    (said,) = warnings_of(replace(bench.state, memory=memory), "head")
    assert said.startswith("By the numbers these stages take the bolt to yield")
    assert dict(numbers_of(head))["share of yield strength"].endswith("%")


def test_cautions_where_they_apply_and_nowhere_else(bench):
    head, caps = (tighten_sheet(bench.state, name) for name in ("head", "cam_caps_inl"))
    assert {term for term, _ in head.cautions} == {"A bolt that breaks while it is tightened", "Liquid in a blind hole"}
    assert {term for term, _ in caps.cautions} == {"Stored spring energy"}
    wren = tighten_sheet(Bench("wren").state, "head")
    assert wren.cautions == ()  # studs with nuts, no stretch: nothing of these can happen
    bench.begin(way="loosen")
    loose = tighten_sheet(bench.state, "head")
    assert {term for term, _ in loose.cautions} == {"A bolt that breaks while it is tightened"}


def test_the_contract_for_machines(bench):
    bench.begin()
    bench.press()
    data = tighten_data(bench.state)
    assert [(one["kind"], one["torque"], one["angle"], one["unit"]) for one in data["stages"]] == [
        ("torque", "25", None, "N·m"), ("angle", None, "90", "deg"), ("angle", None, "90", "deg")]  # fmt: skip
    assert data["stages"][0]["order"] == [str(n) for n in range(1, 11)]
    assert len(data["bolts"]) == 10
    assert data["cautions"]
    assert data["next"] == {"stage": 1, "bolt": "2"}
    assert data["clamp"]["yields"] == "will"


def test_paper_shows_what_is_done_and_boxes_for_the_rest(bench):
    bench.begin()
    bench.through(1)
    bench.press("46")
    filled = tighten_paper(bench.state, "head", "2026-11-26")
    blank = tighten_paper(bench.state, "head", "2026-11-26", blank=True)
    row, empty = (paper.tables[1].rows[0] for paper in (filled, blank))
    assert row[0] == empty[0] == "1"
    assert row[-2] == "46 N·m"
    assert empty[2:] == ("",) * 5
    assert [one[0] for one in blank.tables[1].rows] == [str(n) for n in range(1, 11)]
    assert "no joint is called" in refused(tighten_paper, bench.state, "hed")


def test_a_stretch_is_read_in_place_in_its_own_unit(bench):
    memory = Memory()
    head = tighten.joints(bench.state)["head"]
    rods, faults = procedure("head", {**head.plain, "stages": [{"torque": "20"}, {"stretch": "0.13", "unit": "mm"}]})
    assert not faults
    now = replace(bench.state, memory=memory)
    memory.once(("joints", now.sheet.hash), lambda: {"head": rods})
    begun = tighten.begin(now, Stamp("b", "2026-11-26T09:00:00Z", "J. M."), "head")
    bench.log += [event.stored(len(bench.log) + n, "") for n, event in enumerate(begun, 1)]
    bench.through(1)
    assert tighten_sheet(bench.state, "head").unit == "mm"
    assert "is not a stretch" in refused(bench.press, "13")
    assert "cannot be read as a stretch" in refused(bench.press, "46 N·m")
    bench.press("0.127")
    bench.press("0.0051 in")
    turns = [bench.run().bolts[one].turns[-1] for one in ("1", "2")]
    assert [(one.stretch, one.unit, one.final) for one in turns] == [("0.127", "mm", ""), ("0.0051", "in", "")]
    assert tighten_sheet(bench.state, "head").back == "0.0051"


def test_an_electronic_wrench_pulled_off_its_grip_shows_another_torque(bench):
    stage = tighten.joints(bench.state)["head"].stages[0]
    fields = {"kind": "torque_wrench", "unit": "N·m", "resolution": "0.1", "lever": "400 mm", "sensor": "50 mm"}
    body = {"gauge": "E-1", "fields": fields, "based_on": None}
    bench.log.append(Stamp("w", "").event("gauge_entered", body).stored(len(bench.log) + 1, ""))
    assert dial_of(bench.state, "E-1", stage, "60 mm", "", "400 mm").text == "21.7 N·m"  # at the grip: no difference
    # by hand: 25 x (300 - 50) x 400 / ((400 - 50) x (300 + 60)) = 19.8
    assert dial_of(bench.state, "E-1", stage, "60 mm", "", "300 mm").text == "19.8 N·m"
