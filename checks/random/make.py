"""Truth for checks/random: numpy's SFC64 and its samplers. Run: python3 make.py  (writes truth.json)"""
import json
import pathlib

import numpy

states = [
    ((0, 0, 0), 1),
    ((0x243F6A8885A308D3, 0x13198A2E03707344, 0xA4093822299F31D0), 1),
    ((2**64 - 1, 2**64 - 1, 2**64 - 1), 2**64 - 3),  # every carry, and the counter wraps
    ((0x0123456789ABCDEF, 0xFEDCBA9876543210, 0xDEADBEEF), 2**32 - 2),  # the counter carries into its high half
]


def generator(state, counter):
    bits = numpy.random.SFC64(0)
    bits.state = dict(bit_generator="SFC64", has_uint32=0, uinteger=0,
                      state=dict(state=numpy.array([*state, counter], dtype=numpy.uint64)))
    return bits


cases = []
for state, counter in states:
    normals = numpy.random.Generator(generator(state, counter)).standard_normal(200000)
    tail = numpy.flatnonzero(numpy.abs(normals) > 3.7)
    poisson = {}
    for mean in (0.3, 9.5, 10.0, 47.0, 3.2e4):
        poisson[str(mean)] = numpy.random.Generator(generator(state, counter)).poisson(mean, 200).tolist()
    cases.append(dict(
        state=[str(word) for word in state], counter=str(counter),
        raw=[str(v) for v in generator(state, counter).random_raw(40).tolist()],
        normals=normals[:300].tolist(),
        tail={str(i): normals[i] for i in tail.tolist()},
        sum=float(numpy.sum(normals)), count=normals.size, poisson=poisson,
    ))
truth = dict(versions=dict(numpy=numpy.__version__), cases=cases)
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth) + "\n")
