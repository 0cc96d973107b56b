"""How much of a substance a user takes up."""

from tenside._native import Exposure, ProductType, product_types

__all__ = ["Exposure", "ProductType", "product_types"]
