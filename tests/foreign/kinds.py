"""The kinds of receivers, recorders and riders, a sentence each."""
import dataclasses
import typing

import numpy as np

import receivers
import recorders
import signals
import vehicles


@dataclasses.dataclass(frozen=True)
class Kind:
    """What makes the log, in words, on which vehicles; whether a rider's feet have a share in the starts."""
    log: typing.Callable
    words: str
    vehicles: tuple = vehicles.ALL
    feet: bool = False


KINDS = {
    "exact": Kind(receivers.exact, "The truth, 100 rows a second, for the check of the bench itself."),
    "raw-5": Kind(receivers.raw(5), "Raw Doppler speed with white noise, 5 Hz, CSV."),
    "raw-10": Kind(receivers.raw(10, "nmea"), "Raw Doppler speed with white noise, 10 Hz, NMEA."),
    "raw-18": Kind(receivers.raw(18), "Raw Doppler speed with white noise, 18 Hz, CSV."),
    "raw-25": Kind(receivers.raw(25, "nmea"), "Raw Doppler speed with white noise, 25 Hz, NMEA."),
    "quiet-rest": Kind(receivers.quiet_rest, "Noise many times smaller at rest than in motion, 10 Hz."),
    "pulling-noise": Kind(receivers.pulling_noise, "Noise that grows with the acceleration, 10 Hz."),
    "heavy-tails": Kind(receivers.heavy_tails,
                        "Bursts of noise four to nine times as large, 2 to 9 % of the time, 10 Hz."),
    "correlated": Kind(receivers.correlated, "Noise correlated over 0.3 to 3 s, 10 Hz."),
    "filter-first": Kind(receivers.filtered("first"),
                         "Low pass of first order, 0.1 to 0.4 s, over speed and places, 10 Hz."),
    "filter-second": Kind(receivers.filtered("second", 10, "nmea"),
                          "Low pass of second order, delay 0.1 to 0.4 s, 10 Hz."),
    "filter-mean": Kind(receivers.filtered("mean"), "Moving average with a delay of 0.1 to 0.4 s, 10 Hz."),
    "filter-first-5": Kind(receivers.filtered("first", 5, "gpx"),
                           "Low pass of first order, 0.1 to 0.4 s, 5 Hz, GPX."),
    "tracker-speed": Kind(receivers.tracker(False), "Tracker of place and speed, 0.1 to 0.4 s, 10 Hz."),
    "tracker-pull": Kind(receivers.tracker(True),
                         "Tracker of place, speed and acceleration that overshoots, 0.1 to 0.4 s, 10 Hz."),
    "tracker-pull-5": Kind(receivers.tracker(True, 5), "The same at 5 Hz."),
    "speed-hold": Kind(receivers.speed_hold, "Speed 0 below 0.3 to 1 m/s with hysteresis and a wait, 10 Hz."),
    "static-hold": Kind(receivers.static_hold,
                        "Speed 0 and places frozen at rest, which catch up within 1 to 4 s, 10 Hz."),
    "watch": Kind(receivers.watch, "Raw speed once a second, stamps of whole seconds, GPX."),
    "phone": Kind(receivers.phone("ms"), "Phone, 1 Hz: smoothed, noisy, 0 at rest, GPX with milliseconds."),
    "phone-whole": Kind(receivers.phone("whole"), "The same with stamps of whole seconds."),
    "phone-jitter": Kind(receivers.phone("jitter"), "The same with stamps late by a varying 20 to 600 ms."),
    "phone-late": Kind(receivers.phone_late, "The same with a speed 0.3 to 1 s later than its places."),
    "phone-mean": Kind(receivers.phone_mean,
                       "The same with a speed that an app has averaged over its last readings."),
    "phone-positions": Kind(receivers.phone_positions, "Phone that writes places only, frozen at rest, 1 Hz."),
    "dropped": Kind(recorders.dropped,
                    "Raw 10 Hz of which 0.5 to 4 % of the rows are lost, alone or a few together."),
    "repeated": Kind(recorders.repeated, "Raw 10 Hz of which 2 to 15 % of the rows stand twice."),
    "polled": Kind(recorders.polled(5), "Raw 5 Hz asked ten times a second: each reading again 0.1 s later."),
    "polled-1": Kind(recorders.polled(1), "Raw 1 Hz asked ten times a second."),
    "coarse-knots": Kind(receivers.coarse(5, 0.1 * 1852 / 3600, "nmea"), "Speed in steps of 0.1 knots, 5 Hz."),
    "coarse-half": Kind(receivers.coarse(10, 0.5 / 3.6), "Speed in steps of 0.5 km/h, 10 Hz."),
    "coarse-kmh": Kind(receivers.coarse(10, 1 / 3.6), "Speed in steps of 1 km/h, 10 Hz."),
    "drawn": Kind(recorders.between(1, 5, np.interp), "1 Hz drawn out to 5 Hz by straight lines."),
    "drawn-10": Kind(recorders.between(5, 10, np.interp), "5 Hz drawn out to 10 Hz by straight lines."),
    "curves-1": Kind(recorders.between(1, 10, signals.curve), "1 Hz drawn out to 10 Hz by cubic curves."),
    "curves-2": Kind(recorders.between(2, 10, signals.curve), "2 Hz drawn out to 10 Hz by cubic curves."),
    "run-on-1": Kind(recorders.run_on(1),
                     "Dead reckoning: 1 Hz run on in straight lines to 10 Hz, put right by a jump."),
    "run-on-2": Kind(recorders.run_on(2), "The same from 2 Hz."),
    "app-smoothed": Kind(recorders.app_smoothed,
                         "Exponential smoothing of 0.2 to 0.8 s by an app, then 0 below 0.1 to 0.4 m/s, 10 Hz."),
    "export-centred": Kind(recorders.export_centred,
                           "Speeds smoothed on export over a centred window, Gaussian, sd 0.15 to 0.5 s, 10 Hz."),
    "median-slew": Kind(recorders.median_slew,
                        "Median of the last five speeds, then no change faster than 3.5 to 9 m/s2, 10 Hz."),
    "clock-steps": Kind(recorders.clock_steps,
                        "Raw 10 Hz; the clock steps forward by 0.5 or 1 s, two to six times in a ride."),
    "tracker-hold": Kind(receivers.tracker_hold(10),
                         "As tracker-pull; speed 0 and places frozen below 0.3 to 0.8 m/s with hysteresis, 10 Hz."),
    "tracker-hold-5": Kind(receivers.tracker_hold(5), "The same at 5 Hz."),
    "places-held": Kind(receivers.places_held(10),
                        "Places only, frozen below 0.3 to 0.8 m/s, which catch up within 1 to 2 s, 10 Hz, GPX."),
    "places-held-5": Kind(receivers.places_held(5), "The same at 5 Hz."),
    "phone-ahead": Kind(receivers.phone_ahead, "Phone that predicts its smoothed speed 0.2 to 0.6 s ahead, 1 Hz."),
    "aided-50": Kind(receivers.aided,
                     "Accelerometer that pitch leaks gravity into, pulled to satellite speed in 0.5 to 1.5 s, 50 Hz."),
    "multipath": Kind(receivers.multipath(10, "nmea"),
                      "Raw 10 Hz with bursts of multipath, 0.3 to 1.5 m/s for 0.2 to 4 s, each 8 to 40 s."),
    "multipath-1": Kind(receivers.multipath(1, "gpx"), "The same at 1 Hz."),
    "exact-feet": Kind(receivers.exact,
                       "As exact; riders of scooters and mopeds paddle before the throttle, or roll back by some cm.",
                       vehicles.LIGHT, True),
    "feet-raw": Kind(receivers.raw(10, "nmea"), "The same riders, raw 10 Hz.", vehicles.LIGHT, True),
    "feet-hold": Kind(receivers.hold_half,
                      "The same riders; speed 0 below 0.5 m/s with hysteresis, 10 Hz.", vehicles.LIGHT, True),
}
