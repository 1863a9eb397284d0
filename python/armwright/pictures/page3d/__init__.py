"""The cell and its results in three dimensions: one HTML file that opens anywhere, with the network off."""

from armwright.pictures.page3d.template import page

__all__ = ["page"]
