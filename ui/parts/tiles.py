"""The few figures of a plan that are looked at first, side by side."""

from collections.abc import Sequence

import streamlit as st

from ui.plain import plain
from ui.planner.tile_rows import Tile


def show_tiles(tiles: Sequence[Tile]) -> None:
    """Show the figures, each with what is said of it."""
    with st.container(key="tiles"):
        for column, tile in zip(st.columns(len(tiles), gap="small"), tiles, strict=True):
            column.metric(
                tile.name,
                plain(tile.value),
                delta=plain(tile.said),
                delta_color="off",
                delta_arrow="off",
                border=True,
            )
