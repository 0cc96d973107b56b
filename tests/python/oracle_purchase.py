"""Purchases and mixes as integer programs for HiGHS, modelled from the offers and not from the library's search."""

from __future__ import annotations

import random
from dataclasses import dataclass
from fractions import Fraction

import tenside as td
from oracle_model import Row, Solved, highs

CATALOGUE = td.Catalogue.starter()
MATERIALS = (
    "sci-powder",
    "scs-needles",
    "kaolin",
    "corn-starch",
    "cetyl-alcohol",
    "cocoa-butter",
    "panthenol",
    "glycerin-99-5",
    "talc",
    "citric-acid-50",
    "capb-30",
    "btms-50",
)


@dataclass(frozen=True)
class Pack:
    """A pack: the place of its raw material, grams, and from how many on one costs how much."""

    material: int
    grams: int
    steps: tuple[tuple[int, Fraction], ...]


@dataclass(frozen=True)
class Shop:
    """A supplier with packs and terms."""

    packs: tuple[Pack, ...]
    freight: Fraction
    free_from: Fraction | None
    tax: Fraction
    rate: Fraction


@dataclass(frozen=True)
class Buying:
    """Suppliers, and batches as shares in whole percent with the grams weighed in."""

    shops: tuple[Shop, ...]
    batches: tuple[tuple[tuple[int, ...], int], ...]
    stock: tuple[int, ...]

    def needed(self) -> list[Fraction]:
        """Grams of each raw material that are short."""
        needs = [
            sum((Fraction(shares[index] * grams, 100) for shares, grams in self.batches), Fraction(0))
            for index in range(len(self.stock))
        ]
        return [max(Fraction(0), need - stock) for need, stock in zip(needs, self.stock)]

    def taken(self) -> list[bool]:
        """Whether batches take some of each raw material: what the stock covers of those may be bought to save freight."""
        return [any(shares[index] for shares, _ in self.batches) for index in range(len(self.stock))]


def shares(rng: random.Random, count: int) -> tuple[int, ...]:
    """Whole percentages that sum to 100."""
    cuts = sorted(rng.sample(range(101), count - 1))
    return tuple(end - start for start, end in zip([0, *cuts], [*cuts, 100]))


def drawn_shop(rng: random.Random, materials: int, packs: int, covered: bool) -> Shop:
    chosen = {}
    for place in range(packs):
        material = place % materials if covered else rng.randrange(materials)
        grams = rng.choice([50, 100, 200, 250, 400, 500, 750, 1000, 1500, 2000, 5000])
        price = Fraction(round(grams * rng.uniform(0.3, 1.2) + rng.uniform(20, 150)), 100)
        steps = [(1, price)]
        if rng.random() < 0.35:
            steps.append((rng.randint(2, 5), price * Fraction(rng.randint(70, 96), 100)))
            if rng.random() < 0.3:
                steps.append((rng.randint(6, 9), steps[-1][1] * Fraction(rng.randint(80, 96), 100)))
        chosen.setdefault((material, grams), Pack(material, grams, tuple(steps)))
    freight = rng.choice([Fraction(0), Fraction(rng.randint(100, 1500), 100)])
    free_from = rng.choice([None, Fraction(rng.randint(500, 12000), 100)])
    return Shop(
        tuple(chosen.values()),
        freight,
        free_from,
        Fraction(rng.choice([0, 0, 7, 19])),
        rng.choice([Fraction(1), Fraction(1), Fraction(9, 10)]),
    )


def buying(
    seed: int | str,
    materials: int | None = None,
    packs: int | None = None,
    batches: int | None = None,
    shops: int | None = None,
) -> Buying:
    """A random purchase; every raw material is offered."""
    rng = random.Random(f"purchase-{seed}")
    count = materials or rng.randint(1, 8)
    number = shops or rng.randint(1, 4)
    drawn = [drawn_shop(rng, count, packs or count * rng.randint(1, 3), covered=place == 0) for place in range(number)]
    made = tuple((shares(rng, count), rng.randint(200, 4000)) for _ in range(batches or rng.randint(1, 3)))
    stock = tuple(rng.choice([0, 0, rng.randint(0, 600), rng.randint(0, 6000)]) for _ in range(count))
    return Buying(tuple(drawn), made, stock)


def formulas_of(case: Buying) -> list[td.Formula]:
    return [
        td.Formula(
            f"Product {index}", {MATERIALS[place]: share for place, share in enumerate(shares) if share}, CATALOGUE
        )
        for index, (shares, _) in enumerate(case.batches)
    ]


def asked(case: Buying) -> tuple[list[td.cost.PlannedBatch], td.cost.Offers, td.cost.Stock]:
    """The question as the library takes it."""
    suppliers, rates = [], {}
    for index, shop in enumerate(case.shops):
        packs = [
            td.cost.Pack(MATERIALS[pack.material], f"{pack.grams} g", pack.steps[0][1], breaks=dict(pack.steps[1:]))
            for pack in shop.packs
        ]
        currency = "EUR" if shop.rate == 1 else f"coin {index}"
        if shop.rate != 1:
            rates[currency] = shop.rate
        suppliers.append(
            td.cost.Supplier(
                f"Shop {index}", packs, currency=currency, freight=shop.freight, free_from=shop.free_from, tax=shop.tax
            )
        )
    batches = [td.cost.PlannedBatch(formula, f"{grams} g") for formula, (_, grams) in zip(formulas_of(case), case.batches)]
    stock = td.cost.Stock(
        [td.cost.StockLot(MATERIALS[place], f"{grams} g") for place, grams in enumerate(case.stock)],
        CATALOGUE,
        currency="EUR",
    )
    return batches, td.cost.Offers(suppliers, CATALOGUE, currency="EUR", rates=rates), stock


def program(case: Buying) -> tuple[list[Fraction], list[tuple[Fraction, Fraction]], list[Row], frozenset[int]]:
    """Costs, ranges and rows: a count and a switch for each price of each pack, and for each supplier whether freight is paid or saved."""
    needs, taken = case.needed(), case.taken()
    costs: list[Fraction] = []
    columns: list[tuple[Fraction, Fraction]] = []
    entries: list[tuple[dict[int, Fraction], Fraction | None, Fraction | None]] = []

    def column(cost: Fraction, high: Fraction) -> int:
        costs.append(cost)
        columns.append((Fraction(0), high))
        return len(costs) - 1

    cover: list[dict[int, Fraction]] = [{} for _ in needs]
    for shop in case.shops:
        factor = shop.rate * (1 + shop.tax / 100)
        paid, saved = (
            column(shop.freight * factor, Fraction(1)),
            column(Fraction(0), Fraction(int(shop.free_from is not None))),
        )
        goods: dict[int, Fraction] = {}
        for pack in (pack for pack in shop.packs if taken[pack.material]):
            least = min(price for _, price in pack.steps)
            most = -(-needs[pack.material] // pack.grams) + max(start for start, _ in pack.steps)
            if shop.free_from is not None and least > 0:
                most += -(-shop.free_from // least)
            switches = []
            for (start, price), later in zip(pack.steps, [*(start for start, _ in pack.steps[1:]), most + 1]):
                count, switch = column(price * factor, Fraction(most)), column(Fraction(0), Fraction(1))
                switches.append(switch)
                goods[count] = price
                cover[pack.material][count] = Fraction(pack.grams)
                entries.append(({count: Fraction(1), switch: Fraction(-start)}, Fraction(0), None))
                entries.append(({count: Fraction(1), switch: Fraction(1 - later)}, None, Fraction(0)))
                entries.append(({switch: Fraction(1), paid: Fraction(-1), saved: Fraction(-1)}, None, Fraction(0)))
            entries.append((dict.fromkeys(switches, Fraction(1)), None, Fraction(1)))
        if shop.free_from is not None:
            entries.append(({**goods, saved: -shop.free_from}, Fraction(0), None))
    entries += [(row, need, None) for row, need in zip(cover, needs) if need > 0]
    rows = [([entry.get(place, Fraction(0)) for place in range(len(costs))], low, high) for entry, low, high in entries]
    return costs, columns, rows, frozenset(range(len(costs)))


def least(case: Buying) -> Solved:
    """The least to be paid, by HiGHS."""
    return highs(*program(case))


@dataclass(frozen=True)
class Mixing:
    """A stock in grams, and products as shares in whole percent, grams a piece, value and the most that can be sold."""

    stock: tuple[int, ...]
    products: tuple[tuple[tuple[int, ...], int, Fraction, int | None], ...]


def mixing(seed: int | str) -> Mixing:
    rng = random.Random(f"mix-{seed}")
    count = rng.randint(2, 8)
    products = tuple(
        (
            shares(rng, count),
            rng.randint(40, 120),
            Fraction(rng.randint(0, 900), 100),
            rng.choice([None, rng.randint(1, 40)]),
        )
        for _ in range(rng.randint(1, 5))
    )
    return Mixing(tuple(rng.randint(0, 3000) for _ in range(count)), products)


def mix_of(case: Mixing, nodes: int) -> td.cost.ProductMix:
    stock = td.cost.Stock([td.cost.StockLot(MATERIALS[place], f"{grams} g") for place, grams in enumerate(case.stock)], CATALOGUE)
    products = []
    for index, (of, grams, value, most) in enumerate(case.products):
        formula = td.Formula(
            f"Product {index}", {MATERIALS[place]: share for place, share in enumerate(of) if share}, CATALOGUE
        )
        products.append(td.cost.PlannedProduct(formula, f"{grams} g", value, most=most))
    return stock.best_mix(products, nodes=nodes)


def dearest(case: Mixing) -> Solved:
    """The most that a mix can be worth, negative, by HiGHS."""
    columns = [(Fraction(0), Fraction(10**6 if most is None else most)) for *_, most in case.products]
    rows: list[Row] = [
        ([Fraction(of[place] * grams, 100) for of, grams, *_ in case.products], None, Fraction(stock))
        for place, stock in enumerate(case.stock)
    ]
    return highs([-value for _, _, value, _ in case.products], columns, rows, frozenset(range(len(columns))))
