"""The geometry of the drive: its quantities, laws and operations."""

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Working
from witnessmark.engine.quantity import Quantity

QUANTITIES: tuple[Quantity, ...] = ()
LAWS: tuple[Consequence, ...] = ()
OPERATIONS: tuple[Working, ...] = ()
