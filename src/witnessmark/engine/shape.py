"""The layout as a value: what stands where in an engine, with the defaults that nobody wrote marked as assumed."""

from dataclasses import dataclass

LAYOUTS = ("inline", "v", "opposed")
GEARS = (
    "bucket_shim",
    "bucket_shim_under",
    "bucket_hydraulic",
    "finger_hydraulic",
    "finger_screw",
    "rocker",
    "rocker_hydraulic",
    "pushrod",
    "pushrod_hydraulic",
)
MATERIALS = ("aluminium", "iron")
SEALS = ("positive", "umbrella", "ring", "none")  # of the valve stems: on the guide, on the stem, in a groove of it
FUELS = ("petrol", "diesel")
COOLINGS = ("liquid", "air")


@dataclass(frozen=True, slots=True)
class Layout:
    """One engine's layout. Cylinder numbers are unique in the engine; a bank is "" where there is only one."""

    layout: str
    cylinders: int
    valves: tuple[tuple[str, tuple[str, ...]], ...]  # (("inl", ("f", "r")), ("exh", ("",)))
    gear: str
    cams: tuple[str, ...]  # per bank; of the whole engine where the cam is in the block
    cam_in_block: bool
    cam_journals: int  # of one camshaft
    head_bolts: int  # of one head
    head: str  # "aluminium", "iron", or "" where nobody said
    block: str
    banks: tuple[tuple[str, tuple[int, ...]], ...]
    springs: int = 1  # per valve: 1, or 2 for an outer and an inner
    assumed: tuple[str, ...] = ()  # keys that follow from the others, not from the user
    drive: str = "chain"  # of the camshafts: chain, belt or gear
    seal: str = ""  # stem seals; "" where nobody said, here and below
    fuel: str = ""
    cooling: str = ""
    hybrid: str = ""  # "yes" or "no": whether a high-voltage drive stands beside the engine

    @property
    def valves_each(self) -> int:
        """Valves of one cylinder."""
        return sum(len(positions) for _, positions in self.valves)

    @property
    def hydraulic(self) -> bool:
        """Whether the gear takes up its own lash."""
        return self.gear.endswith("hydraulic")

    def bank_of(self, cylinder: int) -> str:
        """The bank that holds a cylinder; "" in an engine of one bank."""
        return next((bank for bank, numbers in self.banks if cylinder in numbers), "")
