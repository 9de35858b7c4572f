"""The command: one word a use case, thin over the desk. It knows arguments, exit status, tables; nothing of the trade.

Exit status: 0 done; 1 done, and something is not `within` (only with --strict); 2 the input is at fault.
"""

from witnessmark.shell.cli.main import main

__all__ = ["main"]
