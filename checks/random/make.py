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
def mix(z):
    """SplitMix64's output function, on Python integers."""
    m = 2**64 - 1
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & m
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & m
    return z ^ (z >> 31)


def key(triple):
    """The words of a stream as stream-key.ts describes them, written a second time."""
    words = []
    for constant in (0x243F6A8885A308D3, 0x13198A2E03707344, 0xA4093822299F31D0):
        h = mix((constant + 0x9E3779B97F4A7C15) % 2**64)
        for v in triple:
            h = mix(((h ^ v) + 0x9E3779B97F4A7C15) % 2**64)
        words.append(h)
    return tuple(words)


streams = []
for triple in ((0, 0, 0), (1, 0, 0), (0, 0, 1), (7, 11, 13), (2**53 - 1, 2**40 + 1, 2**32)):
    bits = generator(key(triple), 1)
    bits.random_raw(12)
    streams.append(dict(triple=list(triple), normals=numpy.random.Generator(bits).standard_normal(20).tolist()))

truth = dict(versions=dict(numpy=numpy.__version__), cases=cases, streams=streams)
pathlib.Path(__file__).with_name("truth.json").write_text(json.dumps(truth) + "\n")
