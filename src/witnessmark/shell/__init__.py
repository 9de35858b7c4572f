"""The only rooms with a clock, chance, files, a network and devices: store, web, papers and the command."""
