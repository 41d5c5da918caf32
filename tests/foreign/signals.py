"""Noise, filters and trackers that receivers are made of; everything by time."""
import math

import numpy as np


def wandering(rng, n, step, size, tau):
    """Correlated noise of first order: sd `size`, correlation time `tau`, s."""
    keep = math.exp(-step / tau)
    out = rng.standard_normal(n) * size * math.sqrt(1 - keep * keep)
    out[0] = size * rng.standard_normal()
    values = out.tolist()
    for i in range(1, n):
        values[i] += keep * values[i - 1]
    return np.array(values)


def bursts(rng, n, share, scale, length):
    """Factors of noise: 1, but `scale` in bursts of about `length` readings that fill a share of the time."""
    out = np.ones(n)
    at = 0
    while at < n:
        at += int(rng.exponential(length / share)) + 1
        out[at:at + 1 + int(rng.exponential(length))] = scale
    return out


def _convolve(values, kernel):
    """Causal; before the start all is as at the start."""
    padded = np.concatenate((np.full(len(kernel) - 1, values[0]), values))
    return np.convolve(padded, kernel, mode="valid")


def first_order(values, tau, step):
    """Low pass of first order."""
    if tau <= 0:
        return values
    k = np.exp(-np.arange(int(8 * tau / step) + 1) * step / tau)
    return _convolve(values, k / k.sum())


def second_order(values, tau, step):
    """Two low passes of first order, one after the other, each of half the delay."""
    return first_order(first_order(values, tau / 2, step), tau / 2, step)


def moving_average(values, width, step):
    """Mean of the last `width` seconds."""
    n = max(1, int(round(width / step)))
    return _convolve(values, np.full(n, 1 / n))


def track(place, speed, step, tau, place_tau, accelerating):
    """Tracker along one axis with fixed gains: state place, speed and, if wanted, acceleration.

    Speed follows the measured one with the time constant `tau`, s, places the measured ones with `place_tau`; with an
    acceleration in the state the filter is critically damped, and overshoots where the acceleration changes.
    """
    fade = math.exp(-step / tau)
    alpha, beta = (1 - fade ** 2, (1 - fade) ** 2 / step) if accelerating else (1 - fade, 0.0)
    gain = 1 - math.exp(-step / place_tau)
    p, v, a = float(place[0]), float(speed[0]), 0.0
    places, speeds = [], []
    for measured, doppler in zip(place.tolist(), speed.tolist()):
        p += v * step + 0.5 * a * step * step
        v += a * step
        wrong = doppler - v
        v += alpha * wrong
        a += beta * wrong
        p += gain * (measured - p)
        places.append(p)
        speeds.append(v)
    return np.array(places), np.array(speeds)


def hold(speed, on, off, wait):
    """Speed set to 0 until `wait` readings above `on`; again below `off`."""
    out, moving, count = [], False, 0
    for v in speed.tolist():
        count = count + 1 if v > on else 0
        if not moving and count >= wait:
            moving = True
        elif moving and v < off:
            moving = False
        out.append(v if moving else 0.0)
    return np.array(out)


def freeze(places, standing, step, tau):
    """Places held while standing; afterwards they catch up with the time constant `tau`, s."""
    out = np.array(places)
    behind, keep, held = np.zeros(places.shape[1]), math.exp(-step / tau), None
    for i, still in enumerate(standing):
        if still:
            held = out[i - 1].copy() if held is None and i else (held if held is not None else out[0].copy())
            behind = held - places[i]
        else:
            held = None
            behind = behind * keep
        out[i] = places[i] + behind
    return out


def reflections(rng, time, pause):
    """Errors, m/s, along two axes: multipath of 0.3 to 1.5 m/s for 0.2 to 4 s, about `pause` seconds apart."""
    out = np.zeros((2, len(time)))
    at = time[0] + rng.exponential(pause)
    while at < time[-1]:
        end = at + rng.uniform(0.2, 4)
        size, way = rng.uniform(0.3, 1.5), rng.uniform(0, 2 * math.pi)
        out[:, (time >= at) & (time < end)] = [[size * math.cos(way)], [size * math.sin(way)]]
        at = end + rng.exponential(pause)
    return out


def complementary(felt, speed, standing, step, tau):
    """Speed from an acceleration `felt`, pulled to a measured speed with the time constant `tau`, s; 0 after half a
    second of standing."""
    out, v, stood = [], 0.0, 0
    for a, measured, still in zip(felt.tolist(), speed.tolist(), standing.tolist()):
        stood = stood + 1 if still else 0
        v = 0.0 if stood * step > 0.5 else v + a * step + (measured - v) * step / tau
        out.append(v)
    return np.array(out)


def centred(values, sd, step):
    """Mean with the weights of a Gaussian about each value, sd in s."""
    n = int(4 * sd / step) + 1
    k = np.exp(-0.5 * (np.arange(-n, n + 1) * step / sd) ** 2)
    padded = np.concatenate((np.full(n, values[0]), values, np.full(n, values[-1])))
    return np.convolve(padded, k / k.sum(), mode="valid")


def median(values, count):
    """Of the last `count` values."""
    padded = np.concatenate((np.full(count - 1, values[0]), values))
    return np.median(np.lib.stride_tricks.sliding_window_view(padded, count), axis=1)


def slew(values, most):
    """Follows the values by no more than `most` from one to the next."""
    out = [float(values[0])]
    for v in values[1:].tolist():
        out.append(out[-1] + max(-most, min(most, v - out[-1])))
    return np.array(out)


def curve(at, time, values):
    """Cubic curve through values, its slopes from both neighbours."""
    slope = np.gradient(values, time)
    i = (np.searchsorted(time, at, side="right") - 1).clip(0, len(time) - 2)
    long = time[i + 1] - time[i]
    u = (at - time[i]) / long
    return (values[i] * (1 + 2 * u) * (1 - u) ** 2 + values[i + 1] * u * u * (3 - 2 * u)
            + long * u * (1 - u) * (slope[i] * (1 - u) - slope[i + 1] * u))
