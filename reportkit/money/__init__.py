"""Money: price lines that add up, energy tariffs, and whether it pays.

Amounts are ``Decimal`` and rounded once; estimates made from sampled physics are floats until
``to_money``.
"""

from reportkit.money.amounts import decimal, rounded
from reportkit.money.costs import Step, area_items, film_items, in_area, labour_items, material_items
from reportkit.money.price import Item, Margin, Price, PriceLine, Tax, quote
from reportkit.money.shown import as_sum, by_area
from reportkit.money.tariff import (
    Bins,
    Demand,
    Fuel,
    Period,
    Plant,
    Tariff,
    Tier,
    When,
    bill,
    bins,
    bought,
    flat,
    fuel_cost,
)
from reportkit.money.worth import (
    Plan,
    carbon_dioxide,
    cash,
    cumulative,
    net_present_value,
    payback,
    spending,
    to_money,
)

__all__ = [
    "Bins",
    "Demand",
    "Fuel",
    "Item",
    "Margin",
    "Period",
    "Plan",
    "Plant",
    "Price",
    "PriceLine",
    "Step",
    "Tariff",
    "Tax",
    "Tier",
    "When",
    "area_items",
    "as_sum",
    "bill",
    "bins",
    "bought",
    "by_area",
    "carbon_dioxide",
    "cash",
    "cumulative",
    "decimal",
    "film_items",
    "flat",
    "fuel_cost",
    "in_area",
    "labour_items",
    "material_items",
    "net_present_value",
    "payback",
    "quote",
    "rounded",
    "spending",
    "to_money",
]
