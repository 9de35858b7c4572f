"""What must not stand in a text: told at its place, all together, and never walked."""

import tracemalloc

import pytest

from witnessmark.text import build
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read


def faults(text, name="job.yaml"):
    with pytest.raises(Faulty) as caught:
        read(text, name)
    return caught.value.faults


def told(text):
    return [(fault.kind, fault.line, fault.column, fault.path) for fault in faults(text)]


def test_every_duplicate_is_told_at_its_second_place(loader):
    text = "a: 1\nb: {x: 1, x: 2}\na: {y: 1, y: 2}\na: [[1], {z: [2]}]\n"
    assert told(text) == [
        ("duplicate_key", 2, 11, "b.x"),
        ("duplicate_key", 3, 1, "a"),
        ("duplicate_key", 3, 11, ""),
        ("duplicate_key", 4, 1, "a"),
    ]
    assert "first in line 1" in faults(text)[1].message


def test_faults_of_all_kinds_are_told_together(loader):
    text = "a: &x 1\nb: *x\nc: !!int 3\n[d]: 4\nb: 5\n"
    assert told(text) == [
        ("anchor", 1, 4, "a"),
        ("alias", 2, 4, "b"),
        ("tag", 3, 4, "c"),
        ("key_not_text", 4, 1, ""),
        ("duplicate_key", 5, 1, "b"),
    ]


def test_an_alias_bomb_is_refused_without_being_walked(loader):
    text = "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 30))
    tracemalloc.start()
    kinds = {fault.kind for fault in faults(text)}
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert kinds == {"anchor", "alias", "too_many"}
    assert peak < 5_000_000


def test_an_alias_that_holds_itself_is_refused(loader):
    assert [kind for kind, *_ in told("a: &a [*a]")] == ["anchor", "alias"]


@pytest.mark.parametrize("text", ["[" * 41, "{a: " * 41, "- " * 41, "[" * 100_000])
def test_deep_nesting_is_refused_at_once(loader, text):
    kinds = {fault.kind for fault in faults(text)}
    assert kinds == {"too_deep"}


def test_forty_levels_are_read(loader):
    data = read("[" * 40 + "]" * 40, "j").data
    for _ in range(39):
        (data,) = data
    assert data == []


def test_too_many_entries_are_refused(monkeypatch):
    monkeypatch.setattr(build, "MOST_ENTRIES", 10)
    assert told("[1,2,3,4,5,6,7,8,9,10]") == [("too_large", 1, 20, "[9]")]


def test_a_second_document_is_told_at_its_place(loader):
    assert told("a: 1\n---\na: 2\n") == [("documents", 2, 1, "")]


def test_fifty_faults_are_told_and_then_it_is_said_that_more_follow(loader):
    found = faults("a: 1\n" * 60_000)
    assert [fault.kind for fault in found] == ["duplicate_key"] * 50 + ["too_many"]
    assert len(faults("\0" * 100)) == 51


def test_a_duplicate_names_the_line_of_the_first():
    (fault,) = faults("a: 1\nb:\n  c: 1\n  d: 2\n  c: 3\n")
    assert (fault.line, fault.path) == (5, "b.c")
    assert "first in line 3" in fault.message
