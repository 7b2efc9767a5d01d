package misread

import (
	"cmp"
	"slices"

	"tarry/circuit"
)

// sectionA is what learners think that a single timed contact does.
func sectionA() []entry {
	list := slices.Concat(aboutOnDelay(), aboutBoth(), aboutOffDelay())
	slices.SortFunc(list, func(a, b entry) int { return cmp.Compare(a.ID, b.ID) })
	return inSection("A", list)
}

func inSection(name string, list []entry) []entry {
	for i := range list {
		list[i].Section = name
	}
	return list
}

// aboutOnDelay are the readings of on-delay timers alone.
func aboutOnDelay() []entry {
	return []entry{
		{Reading{ID: "M01", Name: "On-delay times from the release",
			Belief:   "An on-delay timer starts to time when the switch is let go, and returns at the next press.",
			Rebuttal: "A long press: the contact moves while the switch is still on.",
			Feedback: "You seem to start the time when the switch is let go. Hold the switch for longer than the preset and watch: the contact moves under your hand. What starts the time?",
			Example:  onDelayItem(oneLong)}, 1, onDelayAs(circuit.TimesOnRelease)},
		{Reading{ID: "M05", Name: "On-delay adds up its time",
			Belief:   "An on-delay timer keeps the time that it has run when its coil drops out, and carries on at the next press.",
			Rebuttal: "A press that is too short, then a long one: the second starts from zero.",
			Feedback: "You seem to let the second press carry on where the first one stopped. An on-delay loses its time when its coil goes off. Count the second press from zero.",
			Example:  onDelayItem(shortLong)}, 1, onDelayAs(circuit.KeepsTime)},
		{Reading{ID: "M06", Name: "A press is a trigger",
			Belief:   "A press sets the delay off, and it completes even if the switch is let go; the contact returns at the next release.",
			Rebuttal: "A press that is shorter than the preset: nothing moves at all.",
			Feedback: "You seem to take the press for a trigger. Let go before the time is up and look at the contact: it never moves. How long must the coil stay on?",
			Example:  onDelayItem(oneShort)}, 1, onDelayAs(circuit.Triggered)},
		{Reading{ID: "M07", Name: "On-delay means on for the delay",
			Belief:   "An on-delay contact moves at once, stays for the time, and then returns.",
			Rebuttal: "A long press: nothing moves at the press, and at the end of the time the contact stays.",
			Feedback: "You seem to read on-delay as on for the delay. It is the going on that is delayed. Look at the instant of the press: what moves then?",
			Example:  onDelayItem(oneLong)}, 1, onDelayAs(circuit.Interval)},
		{Reading{ID: "M08", Name: "Only a blip at time-out",
			Belief:   "When the time is up the contact moves for a moment and falls back though the coil is still on, because the timer has finished.",
			Rebuttal: "A press much longer than the preset: the contact stays until the coil goes off.",
			Feedback: "You seem to let the contact fall back when the time is over. It stays as long as the coil is on. Hold the switch twice as long and see when the lamp goes off.",
			Example:  onDelayItem(oneLong)}, 1, blipAtTimeOut},
		{Reading{ID: "M11", Name: "Once timed out, it stays",
			Belief:   "A timer that has timed out stays operated; letting go does not return it.",
			Rebuttal: "The release after a long press: the contact returns at once.",
			Feedback: "You seem to leave the contact where it is when the switch is let go. An on-delay has no memory: coil off, contact back. What would make it stay?",
			Example:  onDelayItem(oneLong)}, 1, onDelayAs(circuit.StaysOperated)},
		{Reading{ID: "M17", Name: "The preset read from zero",
			Belief:   "The contact moves when the chart's time reaches the preset, if the coil is on by then.",
			Rebuttal: "Any press that does not begin at zero: the time runs from the edge of the coil.",
			Feedback: "You seem to look for the preset on the time scale. It is a length, not a place. Lay your ruler at the edge of the coil and measure from there.",
			Example:  onDelayItem(oneLong)}, 1, onDelayAs(circuit.FromZero)},
	}
}

// aboutBoth are those that both families can show.
func aboutBoth() []entry {
	return []entry{
		{Reading{ID: "M02", Name: "The families exchanged",
			Belief:   "On-delay timers wait at the release and off-delay timers at the press; the symbol's arc is read the wrong way round.",
			Rebuttal: "A long press: an on-delay waits at its start, an off-delay at its end.",
			Feedback: "You seem to take an on-delay for an off-delay, or the other way round. Look at the symbol again, and ask which edge of the coil is the slow one. Then draw that edge first.",
			Example:  onDelayItem(oneLong)}, 0, exchangeFamilies},
		{Reading{ID: "M03", Name: "Delayed at both edges",
			Belief:   "The contact does what the coil did, later by the preset, at both edges.",
			Rebuttal: "The release after a long press: an on-delay's contact returns with the coil.",
			Feedback: "You seem to move the whole row of the coil to the right. Only one of the two edges waits. Which one says the timer's name?",
			Example:  onDelayItem(oneLong)}, 1, takes(circuit.Slides, noEither, circuit.OnDelay, circuit.OffDelay)},
		{Reading{ID: "M04", Name: "No delay",
			Belief:   "A timer's contacts follow the coil at once, like those of any relay.",
			Rebuttal: "Any press: one of the two edges waits.",
			Feedback: "You seem to let the contact follow its coil. One of its two edges waits for the time that is set. Mark the preset on the chart first, then draw the contact.",
			Example:  onDelayItem(oneLong)}, 1, noDelay},
		{Reading{ID: "M09", Name: "Normally means in normal running",
			Belief:   "Normally open and normally closed say how a timed contact stands when the plant runs.",
			Rebuttal: "The time before any press: a normally open contact is open then.",
			Feedback: "You seem to read normally as in normal running. It means at rest, with nothing energised. Begin each row at time zero and ask: is the coil off?",
			Example:  onDelayItem(oneLong)}, 2, exchangeNormals},
		{Reading{ID: "M10", Name: "The drawn state is for ever",
			Belief:   "A timed contact stays as it is drawn.",
			Rebuttal: "A long press: the contact changes over.",
			Feedback: "You seem to leave the contact as the drawing shows it. A drawing shows the rest state. Hold the switch for longer than the preset and watch.",
			Example:  onDelayItem(oneLong)}, 1, takes(circuit.NeverMoves, "there is no timer")},
		{Reading{ID: "M15", Name: "The letters N.C. ignored",
			Belief:   "Every timed contact is open at rest, whatever its letters say.",
			Rebuttal: "A normally closed contact before any press: it is closed.",
			Feedback: "You seem to treat a normally closed contact as an open one. Read its first two letters, and draw the row at time zero first. What is closed before anybody has pressed?",
			Example:  Example{"on-delay", oneLong, []string{"H2"}}}, 2, ignoreClosed},
		{Reading{ID: "M16", Name: "Timed closed means closed while timing",
			Belief:   "Timed closed or timed open says how the contact stands while the time runs.",
			Rebuttal: "A long press: an NOTC contact closes when the time is over, not while it runs.",
			Feedback: "You seem to read timed closed as closed while timing. It says which movement is late. Ask what the contact does when the time is over.",
			Example:  onDelayItem(oneLong)}, 1, whileTiming},
		{Reading{ID: "M20", Name: "It works once",
			Belief:   "A timer that has worked once is used up until somebody resets it.",
			Rebuttal: "Two long presses: the second works like the first.",
			Feedback: "You seem to let the timer work only once. When its coil goes off it is as good as new. Draw the second press as you drew the first.",
			Example:  onDelayItem(twoLong)}, 1, usedUp},
	}
}

// aboutOffDelay are the readings of off-delay timers alone.
func aboutOffDelay() []entry {
	return []entry{
		{Reading{ID: "M12", Name: "Off-delay times from the press",
			Belief:   "An off-delay contact moves at once and returns a preset after the press, whether the coil is on or not.",
			Rebuttal: "A press longer than the preset: the contact stays for as long as the coil is on.",
			Feedback: "You seem to start an off-delay's time at the press. Hold the switch for longer than the preset: the contact stays. Which edge starts the time?",
			Example:  offDelayItem(oneLong)}, 1, offDelayAs(circuit.Watchdog)},
		{Reading{ID: "M13", Name: "No power, no timing",
			Belief:   "An off-delay timer can't time without its coil energised, so its contact drops at the release.",
			Rebuttal: "The release: the contact stays for the time that is set.",
			Feedback: "You seem to think that a timer can't time with its coil off. In an off-delay the coil is the control, and its going off is just what starts the time; the supply is another matter. Let go and count: when does the lamp go off?",
			Example:  offDelayItem(oneLong)}, 1, offDelayAs(circuit.Follows)},
		{Reading{ID: "M14", Name: "A second press doesn't call it off",
			Belief:   "Once released, an off-delay returns when its time is up, even if the coil is on again by then.",
			Rebuttal: "A second press within the time: the contact stays until a whole time after the last release.",
			Feedback: "You seem to let the first release run its course. A new press calls the time off. Count from the last release.",
			Example:  offDelayItem(shortLong)}, 1, offDelayAs(circuit.FirstRelease)},
		{Reading{ID: "M18", Name: "Off-delay as a shortest time on",
			Belief:   "An off-delay contact stays until the switch is let go and the time since the press is over.",
			Rebuttal: "A press longer than the preset: the contact stays for a whole time after the release.",
			Feedback: "You seem to measure the time from the press. An off-delay counts from the release, however long the press was. Draw the release first, then add the time.",
			Example:  offDelayItem(oneLong)}, 1, offDelayAs(circuit.MinimumOn)},
		{Reading{ID: "M19", Name: "Released time adds up",
			Belief:   "The times for which an off-delay's coil is off add up over several releases.",
			Rebuttal: "Two releases, the first too short: the second counts from zero.",
			Feedback: "You seem to add the two pauses together. Each press takes the time back to zero. Count from the last release alone.",
			Example:  offDelayItem(twoShort)}, 1, offDelayAs(circuit.AddsReleases)},
	}
}
