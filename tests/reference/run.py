"""Best runs by OR-Tools CP-SAT, for tests/core/run_solver.rs.

Run: pip install ortools==9.15.6755; python run.py > run.json (some minutes)
Least time back at the base, then least driving, each proven optimal by CP-SAT. The days are random; the instances
are those of tests/data/tsptw, with times of the rc files in ten thousandths.
"""
import json
import pathlib
import random

from ortools.sat.python import cp_model

HERE = pathlib.Path(__file__).parent


def random_day(count, seed):
    rng = random.Random(seed)
    places = [(rng.randrange(60_000), rng.randrange(50_000)) for _ in range(count + 1)]
    drive = [[round(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 * 1.3 / (60 / 3.6)) for b in places] for a in places]
    leave = 6 * 3600
    stops = []
    for _ in range(count):
        opens, closes = leave, leave + 17 * 3600
        if rng.random() < 0.5:
            opens = leave + rng.randrange(10 * 3600)
            closes = opens + 7 * 3600
        rank = rng.choice([0, 0, 0, 0, 1, 2])
        stops.append({"service": rng.randrange(600, 2400, 60), "open": opens, "close": closes, "rank": rank})
    return {"leave": leave, "back": None, "drive": drive, "stops": stops}


def instance(name):
    scale = 10_000 if name.startswith("rc") else 1
    text = (HERE / "../data/tsptw" / name).read_text()
    words = " ".join(line for line in text.splitlines() if not line.startswith("#")).split()
    count = int(words[0])
    numbers = [round(float(word) * scale) for word in words[1:]]
    drive = [numbers[row * count : (row + 1) * count] for row in range(count)]
    times = numbers[count * count :]
    windows = list(zip(times[0::2], times[1::2]))
    stops = [{"service": 0, "open": opens, "close": closes, "rank": 0} for opens, closes in windows[1:]]
    return {"leave": windows[0][0], "back": windows[0][1], "drive": drive, "stops": stops}


def best(day):
    drive, stops, leave = day["drive"], day["stops"], day["leave"]
    size = len(drive)
    horizon = day["back"] if day["back"] is not None else max(s["close"] for s in stops) + max(map(max, drive))
    model = cp_model.CpModel()
    start = [None] + [model.new_int_var(s["open"], s["close"] - s["service"], "") for s in stops]
    back = model.new_int_var(leave, horizon, "")
    arcs, cost = [], []
    for i in range(size):
        for j in range(size):
            if i == j:
                continue
            if i > 0 and j > 0 and stops[i - 1]["rank"] > stops[j - 1]["rank"]:
                continue
            arc = model.new_bool_var("")
            arcs.append((i, j, arc))
            cost.append((drive[i][j], arc))
            ready = leave if i == 0 else start[i] + stops[i - 1]["service"]
            model.add((back if j == 0 else start[j]) >= ready + drive[i][j]).only_enforce_if(arc)
    model.add_circuit(arcs)
    for i in range(1, size):
        for j in range(1, size):
            if stops[i - 1]["rank"] < stops[j - 1]["rank"]:
                model.add(start[i] + stops[i - 1]["service"] <= start[j])
    driving = sum(weight * arc for weight, arc in cost)
    model.add(back >= leave + sum(s["service"] for s in stops) + driving)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = 120
    model.minimize(back)
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL, solver.status_name(status)
    least = round(solver.objective_value)
    model.add(back == least)
    model.minimize(driving)
    status = solver.solve(model)
    assert status == cp_model.OPTIMAL, solver.status_name(status)
    return {"back": least, "driving": round(solver.objective_value)}


answers = {"days": [], "instances": []}
for count, seed in [(8, 1), (8, 2), (9, 3), (10, 4), (10, 5), (11, 6), (12, 7), (12, 8), (13, 9), (14, 10)]:
    day = random_day(count, seed)
    answers["days"].append({"problem": day, "best": best(day)})
for name in ["rbg010a.tw", "rbg016a.tw", "rbg016b.tw", "rbg017a.tw", "rbg019c.tw", "rbg021.6.tw", "rc_202.2.txt", "rc_205.1.txt"]:
    answers["instances"].append({"name": name, "best": best(instance(name))})
print(json.dumps(answers, separators=(",", ":")).replace("},{", "},\n{"))
