"""Every kind of source, by the name that files use."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from models.sources.current import CrossingSignal, ReturnCurrent, Ripple
from models.sources.mains_offset import MainsOffset
from models.sources.measured import MeasuredSpectrum, MeasuredWaveform
from models.sources.source import Source
from models.sources.switch_node import SwitchNode

SOURCES: Mapping[str, type[Source]] = MappingProxyType(
    {
        source.kind: source
        for source in (
            SwitchNode,
            ReturnCurrent,
            Ripple,
            CrossingSignal,
            MainsOffset,
            MeasuredWaveform,
            MeasuredSpectrum,
        )
    }
)


def source_kinds() -> Mapping[str, type[Source]]:
    """Return every kind of source by the name that files use."""
    return SOURCES
