"""Write the invented demo jobs: four cylinder heads, each half measured, each with a lesson of its own.

The wear is drawn with fixed seeds; the places that matter are set by hand in `tools/demo`. After changing a figure:

    .venv/bin/python tools/make_demo.py
"""

from pathlib import Path

from demo import egret, petrel, tern, tightening, wren

OUT = Path(__file__).parents[1] / "src" / "witnessmark" / "shell" / "demo"


def texts() -> dict[str, str]:
    """Every file of the demo by its name."""
    found = {}
    for name, module in (("tern", tern), ("egret", egret), ("wren", wren), ("petrel", petrel)):
        found[f"{name}.yaml"] = module.job()
        found[f"{name}-limits.yaml"] = module.LIMITS + tightening.TEXT[name]
        found[f"{name}-prices.yaml"] = module.PRICES
    return found


def main() -> None:
    """Write the limit sheets, the price lists and the jobs."""
    for name, text in texts().items():
        OUT.joinpath(name).write_text(text, "utf-8")


if __name__ == "__main__":
    main()
