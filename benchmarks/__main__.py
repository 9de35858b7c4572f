"""Run the benchmarks; the exit status is 1 where a goal is not met."""

import sys
from collections.abc import Callable, Mapping
from time import perf_counter

from benchmarks.table import Paper


def _claim(paper: Paper, quick: bool) -> None:
    from benchmarks.promised import claim, not_promised, reliability

    found = claim(paper, quick)
    reliability(paper, quick)
    not_promised(paper, quick, found)


def _part(name: str) -> Callable[[Paper, bool], None]:
    def run(paper: Paper, quick: bool) -> None:
        from importlib import import_module

        import_module(f"benchmarks.{name}").run(paper, quick)

    return run


PARTS: Mapping[str, Callable[[Paper, bool], None]] = {
    "claim": _claim, "slips": _part("slips"), "speed": _part("speed"), "pages": _part("pages"),
    "mutants": _part("mutants"), "plans": _part("plans"), "firsttime": _part("firsttime"),
    "shims": _part("shims"), "steps": _part("steps"), "kills": _part("kills"),
    "traces": _part("traces"),
}  # fmt: skip


def main(words: list[str]) -> int:
    """Every part, or those named."""
    quick = "--quick" in words
    named = [word for word in words if word != "--quick"]
    unknown = [word for word in named if word not in PARTS]
    if unknown:
        print(
            f"no benchmark is called {', '.join(unknown)}; write one of {', '.join(PARTS)}, or none for all",
            file=sys.stderr,
        )
        return 2
    paper = Paper()
    for name in named or PARTS:
        begun = perf_counter()
        PARTS[name](paper, quick)
        paper.say(f"({name}: {perf_counter() - begun:.0f} s)")
    paper.heading("Goals")
    paper.table(
        ("goal", "found", "asked", ""),
        [(what, found, asked, "met" if met else "NOT MET") for what, found, asked, met in paper.goals],
    )
    return 0 if all(met for *_, met in paper.goals) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
