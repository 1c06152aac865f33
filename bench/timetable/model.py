"""A book of tasks as a model for OR-Tools CP-SAT.

The rules are those of `crates/schedule/src/book.rs`, read anew. Closed hours are fixed intervals, not
holes in domains; sandings that may not be needed and sittings are optional intervals; which pour takes
from the mix of which other is a literal for each pair.
"""

from dataclasses import dataclass, field

from ortools.sat.python import cp_model


@dataclass
class Sitting:
    """One sitting of a task: its work is 0 and it stands at the end of the one before if it is not needed."""

    start: object
    work: object
    end: object
    present: object


@dataclass
class Spot:
    """Where one task stands."""

    start: object
    end: object
    present: object  # None: always
    who: dict = field(default_factory=dict)  # person: literal
    sittings: list = field(default_factory=list)
    first: object = None  # of a task with a mix: whether it stirs it
    has_next: object = None  # of a task with a mix: whether another takes from it afterwards
    follows: dict = field(default_factory=dict)  # of a task with a mix: task before it in the mix: literal


class Timetable:
    """The model of a book, with jobs done by their latest slots."""

    def __init__(self, book, latest, spare_sittings=None):
        self.book = book
        self.model = cp_model.CpModel()
        self.latest = latest
        self.spare_sittings = spare_sittings
        self.all_sittings = True
        self.busy = [[] for _ in book["people"]]
        self.seats = [[] for _ in book["people"]]
        self.spots = [self._task(task) for task in book["tasks"]]
        self._links()
        self._mixes()
        self._people()
        self._machines()
        self._jobs()

    def _size(self, least, most):
        return self.model.new_int_var(least, most, "")

    def _span(self, job, lowest=0):
        return self.model.new_int_var(lowest, self.latest[job], "")

    def _task(self, task):
        model = self.model
        if task["fixed"] is not None:
            raise ValueError("fixed tasks are not modelled")
        present = model.new_bool_var("") if task["optional"] else None
        spot = Spot(self._span(task["job"], task["not_before"]), self._span(task["job"]), present)
        hands = task["hands"]
        spot.who = {person: model.new_bool_var("") for person in hands}
        if hands:
            model.add(sum(spot.who.values()) == (1 if present is None else present))
        if task["sittings"]:
            self._sittings(task, spot)
            return spot
        mix = task["mix"]
        occupied = task["work"]
        if mix:
            spot.first, spot.has_next = model.new_bool_var(""), model.new_bool_var("")
            length = task["work"] - mix["stir"] * (1 - spot.first)
            # While it is watched, the next of the mix has the hands.
            occupied = self._size(0, task["work"])
            model.add(occupied == length - mix["watch"] * spot.has_next)
            model.add(spot.end == spot.start + length)
        else:
            model.add(spot.end == spot.start + occupied)
        until = self._span(task["job"]) if mix else spot.end
        for person, does in spot.who.items():
            self.busy[person].append(model.new_optional_interval_var(spot.start, occupied, until, does, ""))
        return spot

    def _sittings(self, task, spot):
        model, rules, work, job = self.model, task["sittings"], task["work"], task["job"]
        longest = rules["longest"] - rules["set_up"]
        fewest, most = -(-work // longest), (work - 1) // rules["least"] + 1
        count = most
        if self.spare_sittings is not None and fewest + self.spare_sittings < most:
            count, self.all_sittings = fewest + self.spare_sittings, False
        before = None
        for place in range(count):
            sitting = Sitting(self._span(job), self._size(0, longest), self._span(job), model.new_bool_var(""))
            here = sitting.present
            model.add(sitting.work >= 1).only_enforce_if(here)
            model.add(sitting.work == 0).only_enforce_if(~here)
            length = self._size(0, rules["longest"])
            model.add(length == sitting.work + rules["set_up"] * here)
            model.add(sitting.end == sitting.start + length)
            if place < fewest:
                model.add(here == 1)
            if before is not None:
                model.add_implication(here, before.present)
                model.add(before.work >= rules["least"]).only_enforce_if(here)
                model.add(sitting.start >= before.end + rules["rest"]).only_enforce_if(here)
                model.add(sitting.start == before.end).only_enforce_if(~here)
            self._seat(task, spot, sitting, length)
            spot.sittings.append(sitting)
            before = sitting
        model.add(sum(sitting.work for sitting in spot.sittings) == work)
        model.add(spot.start == spot.sittings[0].start)
        model.add(spot.end == before.end)

    def _seat(self, task, spot, sitting, length):
        """The sitting in the time of whoever does it, and with its rest among their other sittings."""
        model, rest = self.model, task["sittings"]["rest"]
        for person, does in spot.who.items():
            seated = model.new_bool_var("")
            model.add_bool_and(sitting.present, does).only_enforce_if(seated)
            model.add_bool_or(~sitting.present, ~does, seated)
            self.busy[person].append(
                model.new_optional_interval_var(sitting.start, length, sitting.end, seated, "")
            )
            rested = self.model.new_int_var(0, self.latest[task["job"]] + rest, "")
            with_rest = self._size(0, task["sittings"]["longest"] + rest)
            model.add(with_rest == length + rest)
            self.seats[person].append(
                model.new_optional_interval_var(sitting.start, with_rest, rested, seated, "")
            )

    def _links(self):
        model = self.model
        called = set()
        for link in self.book["links"]:
            before, after = self.spots[link["from"]], self.spots[link["to"]]
            both = [spot.present for spot in (before, after) if spot.present is not None]
            model.add(after.start >= before.end + link["least"]).only_enforce_if(both)
            if link["most"] is None:
                continue
            kept = model.add(after.start <= before.end + link["most"])
            relief = link["relief"]
            if relief is None:
                kept.only_enforce_if(both)
                continue
            if both or relief["task"] in called:
                raise ValueError("a relief for two links or for optional tasks is not modelled")
            called.add(relief["task"])
            done = self.spots[relief["task"]]
            kept.only_enforce_if(~done.present)
            model.add(after.start >= before.end + link["most"] + 1).only_enforce_if(done.present)
            model.add(done.start >= before.end + relief["before"]).only_enforce_if(done.present)
            model.add(after.start >= done.end + relief["after"]).only_enforce_if(done.present)
        for index, task in enumerate(self.book["tasks"]):
            if task["optional"] and index not in called:
                model.add(self.spots[index].present == 0)

    def _mixes(self):
        model, tasks = self.model, self.book["tasks"]
        after = reachable(self.book)
        mixed = [index for index, task in enumerate(tasks) if task["mix"]]
        stood, taken = {}, {}
        for index in mixed:
            mix = tasks[index]["mix"]
            own = tasks[index]["work"] - mix["stir"] - mix["watch"]
            if own < mix["watch"] or tasks[index]["optional"] or tasks[index]["sittings"]:
                raise ValueError("a pour shorter than its watch, optional or split is not modelled")
            stood[index] = self._size(own, mix["stands"])
            taken[index] = self._size(mix["amount"], mix["most"])
            first = self.spots[index].first
            model.add(stood[index] == own).only_enforce_if(first)
            model.add(taken[index] == mix["amount"]).only_enforce_if(first)
        followers = {index: [] for index in mixed}
        for one in mixed:
            for two in mixed:
                if one == two or two in after[one] or one in after[two]:
                    continue
                self._share(one, two, stood, taken, followers)
        for index in mixed:
            spot = self.spots[index]
            model.add_exactly_one([spot.first, *spot.follows.values()])
            model.add(sum(followers[index]) == spot.has_next)

    def _share(self, one, two, stood, taken, followers):
        """Lets `two` take from the mix of `one`, straight after it."""
        model, tasks = self.model, self.book["tasks"]
        mix, other = tasks[one]["mix"], tasks[two]["mix"]
        own = [task["work"] - task["mix"]["stir"] - task["mix"]["watch"] for task in (tasks[one], tasks[two])]
        hands = set(tasks[one]["hands"]) & set(tasks[two]["hands"])
        if mix["kind"] != other["kind"] or not hands:
            return
        if (mix["stands"], mix["most"]) != (other["stands"], other["most"]):
            raise ValueError("a kind of mix of two pot lives is not modelled")
        if sum(own) > mix["stands"] or mix["amount"] + other["amount"] > mix["most"]:
            return
        shares = model.new_bool_var("")
        before, after = self.spots[one], self.spots[two]
        after.follows[one] = shares
        followers[one].append(shares)
        model.add(after.start == before.end - mix["watch"]).only_enforce_if(shares)
        model.add(stood[two] == stood[one] + own[1]).only_enforce_if(shares)
        model.add(taken[two] == taken[one] + other["amount"]).only_enforce_if(shares)
        for person in before.who.keys() | after.who.keys():
            first, second = before.who.get(person, 0), after.who.get(person, 0)
            model.add(first == second).only_enforce_if(shares)

    def _people(self):
        for person, busy, seats in zip(self.book["people"], self.busy, self.seats):
            closed, begins = [], 0
            for opens, closes in [*person["open"]["stretches"], (max(self.latest), None)]:
                if opens > begins:
                    closed.append(self.model.new_fixed_size_interval_var(begins, opens - begins, ""))
                begins = closes
            self.model.add_no_overlap(busy + closed)
            self.model.add_no_overlap(seats)

    def _machines(self):
        model = self.model
        for index, machine in enumerate(self.book["machines"]):
            stays, amounts = [], []
            for task, spot in zip(self.book["tasks"], self.spots):
                for use in task["uses"]:
                    if use["machine"] != index:
                        continue
                    begins, length = spot.start + use["from"], use["length"]
                    present = [] if spot.present is None else [spot.present]
                    make = model.new_optional_fixed_size_interval_var if present else model.new_fixed_size_interval_var
                    stays.append(make(begins, length, *present, ""))
                    amounts.append(use["amount"])
            if machine["outages"]:
                raise ValueError("outages are not modelled")
            model.add_cumulative(stays, amounts, machine["capacity"])

    def _jobs(self):
        model = self.model
        self.done, self.late = [], []
        for index, job in enumerate(self.book["jobs"]):
            done = self._span(index)
            ends = [spot for task, spot in zip(self.book["tasks"], self.spots) if task["job"] == index]
            for spot in ends:
                model.add(done >= spot.end).only_enforce_if([] if spot.present is None else [spot.present])
            self.done.append(done)
            if job["due"] is None:
                continue
            leaves = done
            if job["leaves"]:
                last = job["leaves"][-1]
                known = [[leave, leave] for leave in job["leaves"]] + [[last + 1, last + self.latest[index] + 1]]
                leaves = model.new_int_var_from_domain(cp_model.Domain.from_intervals(known), "")
                model.add(leaves >= done)
            late = self._size(0, max(self.latest[index], job["leaves"][-1] if job["leaves"] else 0) * 2)
            model.add(late >= leaves - job["due"])
            self.late.append(job["weight"] * late)

    def goals(self):
        """What is least, in this order: slots late, optional tasks and mixes, slots done."""
        optional = [spot.present for spot in self.spots if spot.present is not None]
        mixes = [spot.first for spot in self.spots if spot.first is not None]
        return [sum(self.late), sum(optional) + sum(mixes), sum(self.done)]


def reachable(book):
    """For each task, those that cannot begin before it has ended."""
    next_ones = [[] for _ in book["tasks"]]
    for link in book["links"]:
        tasks = [book["tasks"][link["from"]], book["tasks"][link["to"]]]
        if link["least"] >= 0 and not any(task["optional"] for task in tasks):
            next_ones[link["from"]].append(link["to"])
    found = []
    for index in range(len(next_ones)):
        seen, stack = set(), [index]
        while stack:
            for task in next_ones[stack.pop()]:
                if task not in seen:
                    seen.add(task)
                    stack.append(task)
        found.append(seen)
    return found
