"""The drawings of what stands still: casting, seats and guides, springs and seals, fasteners; by name and by use."""

from collections.abc import Callable, Mapping

from witnessmark.draw.scene import Ask, Scene

STANDING: Mapping[str, Callable[[Ask], Scene]] = {}
"""Scenes by the drawing's name in the catalogue."""

STANDING_BY: Mapping[str, Callable[[Ask], Scene]] = {}
"""Scenes by characteristic, where it is measured in another setting than its drawing's name says."""
