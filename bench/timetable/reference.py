"""Times a book of tasks with OR-Tools CP-SAT, a general solver of constraints, to compare our plans with.

    reference.py BOOK.json [--start PLAN.json] [--seconds 60] [--workers 2] [--spare-sittings N] > ANSWER.json

BOOK.json and PLAN.json are `Book` and `Plan` of `crates/schedule` as JSON. The answer is an object:
`plan` (a `Plan` with its `bound`, or null if none was found), `proved` (nothing is better) and
`stages` (status, value and bound of each goal in its order, and seconds). What stands first in `Cost`
is made least first, then the next with what was reached kept. With --spare-sittings only that many
sittings more than the fewest are allowed for a task; then nothing is proved.
"""

import argparse
import json
import math
import sys
import time

from model import Timetable
from ortools.sat.python import cp_model

NONE = {"late": 0, "extras": 0, "finishes": 0, "moved": 0}
GOALS = ["late", "extras", "finishes"]
# Of the time that is left, for each goal.
SHARES = [0.5, 0.5, 1.0]


def cost(book, places):
    """What places cost, reckoned from the book."""
    late = finishes = 0
    for index, job in enumerate(book["jobs"]):
        own = [place for task, place in zip(book["tasks"], places) if place and task["job"] == index]
        ends = max(place["stretches"][-1][1] for place in own)
        leaves = next((leave for leave in job["leaves"] if leave >= ends), ends)
        finishes += ends
        late += job["weight"] * max(0, leaves - job["due"]) if job["due"] is not None else 0
    done = sum(task["optional"] and place is not None for task, place in zip(book["tasks"], places))
    mixes = len({place["mix"] for place in places if place and place["mix"] is not None})
    return {**NONE, "late": late, "extras": done + mixes, "finishes": finishes}


def latest(book, late):
    """The latest slot for each job, if all together are no more than so late."""
    if late is None:
        return [book["horizon"]] * len(book["jobs"])
    slots = []
    for job in book["jobs"]:
        no_due = job["due"] is None or job["weight"] == 0
        slots.append(book["horizon"] if no_due else min(book["horizon"], job["due"] + late // job["weight"]))
    return slots


def pins(timetable, places):
    """The values of the literals and times that decide a plan."""
    shared = {}
    for index, place in enumerate(places):
        if place and place["mix"] is not None:
            shared.setdefault(place["mix"], []).append(index)
    follows = {}
    for tasks in shared.values():
        tasks.sort(key=lambda task: places[task]["stretches"][0][0])
        follows.update(zip(tasks[1:], tasks))
    for index, (spot, place) in enumerate(zip(timetable.spots, places)):
        if spot.present is not None:
            yield spot.present, int(place is not None)
        if place is None:
            continue
        yield spot.start, place["stretches"][0][0]
        yield from ((does, int(person == place["person"])) for person, does in spot.who.items())
        if spot.first is not None:
            yield spot.first, int(index not in follows)
            yield from ((shares, int(follows.get(index) == other)) for other, shares in spot.follows.items())
        rules = timetable.book["tasks"][index]["sittings"]
        for number, sitting in enumerate(spot.sittings):
            here = number < len(place["stretches"])
            yield sitting.present, int(here)
            if here:
                begins, ends = place["stretches"][number]
                yield sitting.start, begins
                yield sitting.work, ends - begins - rules["set_up"]


def read_plan(timetable, solver):
    """The places of a solution, as in a `Plan`."""
    value = solver.value
    places = []
    for spot in timetable.spots:
        if spot.present is not None and not value(spot.present):
            places.append(None)
            continue
        person = next((person for person, does in spot.who.items() if value(does)), None)
        stretches = [[value(spot.start), value(spot.end)]]
        if spot.sittings:
            seats = [sitting for sitting in spot.sittings if value(sitting.present)]
            stretches = [[value(sitting.start), value(sitting.end)] for sitting in seats]
        places.append({"person": person, "stretches": stretches, "mix": None})
    stirring = [index for index, spot in enumerate(timetable.spots) if spot.first is not None and value(spot.first)]
    stirring.sort(key=lambda index: places[index]["stretches"][0][0])
    for number, index in enumerate(stirring):
        while index is not None:
            places[index]["mix"] = number
            others = enumerate(timetable.spots)
            index = next((other for other, spot in others if index in spot.follows and value(spot.follows[index])), None)
    return places


def new_solver(seconds, workers):
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(0.1, seconds)
    solver.parameters.num_workers = workers
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.random_seed = 1
    return solver


def hint(timetable, places, seconds, workers):
    """Starts the search from places, completed to a solution; says so if they are none."""
    fixed = timetable.model.clone()
    for variable, value in pins(timetable, places):
        fixed.add(fixed.get_int_var_from_proto_index(variable.index) == value)
    solver = new_solver(seconds, workers)
    if solver.solve(fixed) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return False
    for index in range(len(timetable.model.proto.variables)):
        variable = timetable.model.get_int_var_from_proto_index(index)
        timetable.model.add_hint(variable, solver.value(variable))
    return True


def any_plan(book, seconds, workers, spare_sittings):
    """Any plan at all, looked for before slots that grow later."""
    for part in (4, 2, 1):
        early = [book["horizon"] // part] * len(book["jobs"])
        timetable = Timetable(book, early, spare_sittings)
        solver = new_solver(seconds / 3, workers)
        if solver.solve(timetable.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return read_plan(timetable, solver)
    return None


def solve(book, places, seconds, workers, spare_sittings):
    """Makes one goal after the other least."""
    until = time.monotonic() + seconds
    reached, bound, stages, proved = {}, dict(NONE), [], True
    places = places or any_plan(book, seconds / 4, workers, spare_sittings)
    for goal, share in zip(GOALS, SHARES):
        known = cost(book, places) if places else None
        timetable = Timetable(book, latest(book, known and known["late"]), spare_sittings)
        model, goals = timetable.model, dict(zip(GOALS, timetable.goals()))
        for before, most in reached.items():
            model.add(goals[before] <= most)
        begun = time.monotonic()
        if places and not hint(timetable, places, until - begun, workers):
            sys.exit("the plan to start from breaks the rules of the model, or the time is too short")
        model.minimize(goals[goal])
        solver = new_solver((until - time.monotonic()) * share, workers)
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            sys.exit("there is no plan for this book")
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            places = read_plan(timetable, solver)
        proved &= status == cp_model.OPTIMAL and timetable.all_sittings
        least = math.ceil(solver.best_objective_bound - 1e-6)
        took = time.monotonic() - begun
        stages.append({"goal": goal, "status": solver.status_name(status), "bound": least, "seconds": round(took, 2)})
        if not places:
            break
        now = cost(book, places)
        reached = {one: now[one] for one in [*reached, goal]}
        stages[-1]["value"] = now[goal]
        # A bound on a goal holds only while those before it are at their least.
        if all(stage["status"] == "OPTIMAL" for stage in stages[:-1]) and timetable.all_sittings:
            bound[goal] = max(0, least)
    plan = places and {"tasks": places, "cost": cost(book, places), "bound": bound}
    return {"plan": plan, "proved": proved and bool(places), "stages": stages}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("book")
    parser.add_argument("--start", help="a plan to start from")
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--spare-sittings", type=int)
    asked = parser.parse_args()
    with open(asked.book, encoding="utf-8") as file:
        book = json.load(file)
    places = None
    if asked.start:
        with open(asked.start, encoding="utf-8") as file:
            places = json.load(file)["tasks"]
    json.dump(solve(book, places, asked.seconds, asked.workers, asked.spare_sittings), sys.stdout)
    print()


if __name__ == "__main__":
    main()
