"""Money: price lines that add up, energy tariffs, and whether it pays.

Amounts are ``Decimal`` and rounded once; estimates made from sampled physics are floats until
``to_money``.
"""

from reportkit.money.costs import film_items, labour_item, material_items
from reportkit.money.price import Item, Margin, Price, PriceLine, Tax, adds_up, decimal, quote, rounded
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
    tiered,
)
from reportkit.money.worth import (
    GAS_KG_PER_KWH,
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
    "GAS_KG_PER_KWH",
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
    "Tariff",
    "Tax",
    "Tier",
    "When",
    "adds_up",
    "bill",
    "bins",
    "bought",
    "carbon_dioxide",
    "cash",
    "cumulative",
    "decimal",
    "film_items",
    "flat",
    "fuel_cost",
    "labour_item",
    "material_items",
    "net_present_value",
    "payback",
    "quote",
    "rounded",
    "spending",
    "tiered",
    "to_money",
]
