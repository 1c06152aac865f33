"""Solves a book of things to buy with OR-Tools CP-SAT, a general solver of constraints.

    reference.py BOOK.json > ANSWER.json

BOOK.json is a `Book` of `crates/buying` as `tests/general_solver.rs` writes it. The rules are read anew: each
pack counts in whole numbers, postage is a function of what the goods of a parcel come to or weigh, and
wants of an item in one lot each name their seller; other wants name how much they take from whom. The
answer is an object: `net`, the least of goods and postage less worth, or null if there is no order.
"""

import json
import sys

from ortools.sat.python import cp_model

# Far above what a threshold or a want of a small book can ask for.
MOST_PACKS = 200


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        book = json.load(file)
    model = cp_model.CpModel()
    offers, sellers, wants = book["offers"], book["sellers"], book["wants"]
    packs = [model.new_int_var(0, MOST_PACKS if o["most"] is None else min(MOST_PACKS, o["most"]), "") for o in offers]
    net = [(o["price"] - o["worth"]) * packs[i] for i, o in enumerate(offers)]
    wanted = {want["item"] for want in wants}

    for index, offer in enumerate(offers):
        # What nobody wants is not bought to reach a threshold.
        if not any(item in wanted for item, _ in offer["holds"]):
            model.add(packs[index] == 0)

    for index, seller in enumerate(sellers):
        own = [i for i, o in enumerate(offers) if o["seller"] == index]
        opened = model.new_bool_var("")
        model.add(sum(packs[i] for i in own) >= 1).only_enforce_if(opened)
        model.add(sum(packs[i] for i in own) == 0).only_enforce_if(opened.negated())
        goods = sum(offers[i]["price"] * packs[i] for i in own)
        grams = sum(offers[i]["grams"] * packs[i] for i in own)
        model.add(goods >= seller["least_order"]).only_enforce_if(opened)
        if "tiers" in seller:
            tiers = seller["tiers"]
            chosen = [model.new_bool_var("") for _ in tiers]
            model.add(sum(chosen) == opened)
            for place, (start, postage) in enumerate(tiers):
                model.add(goods >= start).only_enforce_if(chosen[place])
                if place + 1 < len(tiers):
                    model.add(goods < tiers[place + 1][0]).only_enforce_if(chosen[place])
                net.append(postage * chosen[place])
        else:
            first, included, step, each = seller["weight"]
            steps = model.new_int_var(0, 100_000, "")
            model.add(included + step * steps >= grams).only_enforce_if(opened)
            net.append(first * opened + each * steps)

    for item, one_lot in enumerate(book["one_lot"]):
        taken = [[] for _ in sellers]
        for want in (want for want in wants if want["item"] == item):
            in_time = [
                s for s, seller in enumerate(sellers) if want["latest"] is None or seller["arrives"] <= want["latest"]
            ]
            if one_lot:
                lots = {s: model.new_bool_var("") for s in in_time}
                model.add(sum(lots.values()) == 1)
                for s, lot in lots.items():
                    taken[s].append(want["amount"] * lot)
            else:
                flows = {s: model.new_int_var(0, want["amount"], "") for s in in_time}
                model.add(sum(flows.values()) == want["amount"])
                for s, flow in flows.items():
                    taken[s].append(flow)
        for s, amounts in enumerate(taken):
            supply = [
                held * packs[i]
                for i, offer in enumerate(offers)
                if offer["seller"] == s
                for held_item, held in offer["holds"]
                if held_item == item
            ]
            model.add(sum(supply) >= sum(amounts))

    model.minimize(sum(net))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 60
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        answer = {"net": None}
    elif status == cp_model.OPTIMAL:
        answer = {"net": round(solver.objective_value)}
    else:
        sys.exit(f"no proof: {solver.status_name(status)}")
    json.dump(answer, sys.stdout)


main()
