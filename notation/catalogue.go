package notation

import "tarry/diag"

// catalogue explains the codes. TestCatalogue runs every example.
var catalogue = []diag.Entry{
	{
		Code: codeAbsurdTime, Grade: gradeOf(codeAbsurdTime),
		Explanation: "A time is at most 8760 h, which is a year. More is taken for a slip of the keyboard.",
		Example: "KT1 on-delay 9000 h\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeAfterEnd, Grade: gradeOf(codeAfterEnd),
		Explanation: "An action stands behind the end line of its script, or the script ends before its last action. Nothing can be done once the run is over: write the actions before the end line and end the run later.",
		Example: "S1 button\n" +
			"1: S1.no -> @x\n" +
			"2: @x -> H1\n" +
			"H1 lamp\n" +
			"script \"Start\"\n" +
			"  end 5 s\n" +
			"  1 s press S1\n",
	},
	{
		Code: codeBadCharacter, Grade: gradeOf(codeBadCharacter),
		Explanation: "A character has no meaning outside texts in quotes and remarks. It is left out and the line is read as if it were not there.",
		Example: "K1 relay ;\n" +
			"1: -> K1\n",
	},
	{
		Code: codeBadNumber, Grade: gradeOf(codeBadNumber),
		Explanation: "A rung number and a wire number are whole numbers from 1 to 99999, a counter counts to a whole number from 1 to 999999, and voltages and tolerances stay within reason.",
		Example: "K1 relay\n" +
			"0: -> K1\n",
	},
	{
		Code: codeBadPin, Grade: gradeOf(codeBadPin),
		Explanation: "A wire line gives a number to a net that a rung names. Each net has one number and each number belongs to one net.",
		Example: "K1 relay\n" +
			"1: -> K1\n" +
			"wire @w6 12\n",
	},
	{
		Code: codeBadPosition, Grade: gradeOf(codeBadPosition),
		Explanation: "A selector has from 2 to 24 positions. Their names differ by more than case, and none is called like a contact (no, nc, star and so on).",
		Example: "S1 selector off off\n" +
			"1: S1.off -> H1\n" +
			"H1 lamp\n",
	},
	{
		Code: codeBadRails, Grade: gradeOf(codeBadRails),
		Explanation: "The two rails of the supply have different names.",
		Example:     "supply 24 V dc rails L L\n",
	},
	{
		Code: codeBadTag, Grade: gradeOf(codeBadTag),
		Explanation: "A tag is a letter followed by letters, digits, _ and -, up to 16 of them. What the device is for belongs in its label.",
		Example: "Start-button-north-door button\n" +
			"1: Start-button-north-door.no -> H1\n" +
			"H1 lamp\n",
	},
	{
		Code: codeBothEnds, Grade: gradeOf(codeBothEnds),
		Explanation: "Both ends of a load are on one net. It is bridged by wire and can never be energised.",
		Example: "K1 relay\n" +
			"1: @x -> K1 -> @x\n" +
			"2: -> @x\n",
	},
	{
		Code: codeBridged, Grade: gradeOf(codeBridged),
		Explanation: "Both ends of a contact are on one net, so that it switches nothing. The cause is a named net on both sides of it.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: @x S1.no @x -> H1\n" +
			"2: -> @x\n",
	},
	{
		Code: codeControl, Grade: gradeOf(codeControl),
		Explanation: "A text in quotes holds a control character, for example a tab. A drawing cannot show it.",
		Example:     "aim \"One\tline\"\n",
	},
	{
		Code: codeDeadRung, Grade: gradeOf(codeDeadRung),
		Explanation: "A load does not lie between the two rails, or a tie reaches neither, even if every contact is closed. Most often the name of a net is misspelt.",
		Example: "H1 lamp\n" +
			"1: @x -> H1\n",
	},
	{
		Code: codeDoubleLine, Grade: gradeOf(codeDoubleLine),
		Explanation: "A text has one circuit, one station and one supply line, and a script has one end line. The first one holds.",
		Example: "circuit \"One\"\n" +
			"circuit \"Two\"\n",
	},
	{
		Code: codeDoubleRung, Grade: gradeOf(codeDoubleRung),
		Explanation: "Two rungs have the same number. The numbers stand on the drawing and must tell the rungs apart; they need not be consecutive.",
		Example: "H1 lamp\n" +
			"H2 lamp\n" +
			"1: -> H1\n" +
			"1: -> H2\n",
	},
	{
		Code: codeDoubleScript, Grade: gradeOf(codeDoubleScript),
		Explanation: "Two scripts have the same name. Scripts are called up by their names.",
		Example: "script \"Start\"\n" +
			"script \"Start\"\n",
	},
	{
		Code: codeDoubleTag, Grade: gradeOf(codeDoubleTag),
		Explanation: "Two devices have the same tag, or tags that differ only by case. On a drawing, and when spoken, they could not be told apart.",
		Example: "K1 relay\n" +
			"k1 lamp\n" +
			"1: -> K1\n",
	},
	{
		Code: codeEmptyGroup, Grade: gradeOf(codeEmptyGroup),
		Explanation: "A branch of a group holds nothing. It would be a wire past the other branches.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: (S1.no | ) -> H1\n",
	},
	{
		Code: codeFedTwice, Grade: gradeOf(codeFedTwice),
		Explanation: "A coil or load stands on two rungs, or twice on one. Each is drawn once; bring the paths that feed it together in a group.",
		Example: "H1 lamp\n" +
			"1: -> H1\n" +
			"2: -> H1\n",
	},
	{
		Code: codeTooLarge, Grade: gradeOf(codeTooLarge),
		Explanation: "A text has at most 1 MiB. What stands behind that is not read.",
	},
	{
		Code: codeLoneNet, Grade: gradeOf(codeLoneNet),
		Explanation: "A named net joins the places where its name stands. This one is named once only, so that it joins nothing; perhaps another name is meant.",
		Example: "H1 lamp\n" +
			"S1 button\n" +
			"1: S1.no @w6 -> H1\n",
	},
	{
		Code: codeMissingArrow, Grade: gradeOf(codeMissingArrow),
		Explanation: "A rung's loads stand behind an arrow. The arrow is written -> and may be given as → too.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: S1.no H1\n",
	},
	{
		Code: codeBareBar, Grade: gradeOf(codeBareBar),
		Explanation: "Branches side by side stand in brackets, so that it is plain what belongs to them and what stands in series with them.",
		Example: "S1 button\n" +
			"S2 button\n" +
			"H1 lamp\n" +
			"1: S1.no | S2.no -> H1\n",
	},
	{
		Code: codeMissingContact, Grade: gradeOf(codeMissingContact),
		Explanation: "In a path, a tag is followed by a dot and the name of one of its contacts.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: S1 -> H1\n",
	},
	{
		Code: codeMissingCount, Grade: gradeOf(codeMissingCount),
		Explanation: "A counter needs the number at which its contacts operate.",
		Example: "C1 counter\n" +
			"1: -> C1\n",
	},
	{
		Code: codeMissingKind, Grade: gradeOf(codeMissingKind),
		Explanation: "A device's line says what the device is.",
		Example:     "K1\n",
	},
	{
		Code: codeMissingLoad, Grade: gradeOf(codeMissingLoad),
		Explanation: "A rung feeds at least one coil or load, or ends on a named net.",
		Example: "S1 button\n" +
			"1: S1.no\n",
	},
	{
		Code: codeMissingTime, Grade: gradeOf(codeMissingTime),
		Explanation: "A timer is declared with its preset; an on-off-delay and a flasher have two. Two times that could be read as one, such as 2 s 300 ms, need a comma between them.",
		Example: "KT1 on-delay\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeMissingUnit, Grade: gradeOf(codeMissingUnit),
		Explanation: "A time is written with its unit (ms, s, min or h) and a voltage with V. Seconds are not taken for granted.",
		Example: "KT1 on-delay 4\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeNegativeTime, Grade: gradeOf(codeNegativeTime),
		Explanation: "Times count from the start of the run and settings run forwards: none is negative.",
		Example: "KT1 on-delay -4 s\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeNeverFed, Grade: gradeOf(codeNeverFed),
		Explanation: "Contacts of a device are wired, but its coil is on no rung, so that they never move.",
		Example: "K1 relay\n" +
			"H1 lamp\n" +
			"1: K1.no -> H1\n",
	},
	{
		Code: codeNoScript, Grade: gradeOf(codeNoScript),
		Explanation: "Actions, expectations and the end line belong to the script line before them.",
		Example: "S1 button\n" +
			"1: S1.no -> H1\n" +
			"H1 lamp\n" +
			"1 s press S1\n",
	},
	{
		Code: codeNotExtraLow, Grade: gradeOf(codeNotExtraLow),
		Explanation: "The supply is above extra-low voltage, which ends at 50 V ac and 120 V dc. The exercises are meant for a bench within these limits; the text is read and runs all the same.",
		Example:     "supply 230 V ac\n",
	},
	{
		Code: codeNotUTF8, Grade: gradeOf(codeNotUTF8),
		Explanation: "The file is not saved as UTF-8. Save it so in your editor.",
	},
	{
		Code: codeNotYet, Grade: gradeOf(codeNotYet),
		Explanation: "The word is kept for a later version. The line has no effect; the rest of the text is read.",
		Example:     "claim H1 never\n",
	},
	{
		Code: codeOutsideRun, Grade: gradeOf(codeOutsideRun),
		Explanation: "An expectation speaks of a time behind the end of its script.",
		Example: "H1 lamp\n" +
			"1: -> H1\n" +
			"script \"On\"\n" +
			"  end 5 s\n" +
			"  expect H1 on 0 s .. 6 s\n",
	},
	{
		Code: codeRailsJoined, Grade: gradeOf(codeRailsJoined),
		Explanation: "Wire alone joins the two rails, which is a short circuit as soon as the supply is on. At least a contact, and in practice a load, must stand between them.",
		Example:     "1: @L+ -> @L-\n",
	},
	{
		Code: codeReserved, Grade: gradeOf(codeReserved),
		Explanation: "The words that begin a line, the actions and a few others cannot be tags, and where they begin a line they are written in small letters.",
		Example:     "End relay\n",
	},
	{
		Code: codeScriptOrder, Grade: gradeOf(codeScriptOrder),
		Explanation: "A script tells its actions in order of time. Actions of one instant are done together, but for a second one on the same device, which waits until the first has settled.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: S1.no -> H1\n" +
			"script \"Dab\"\n" +
			"  2 s press S1\n" +
			"  1 s release S1\n",
	},
	{
		Code: codeSeries, Grade: gradeOf(codeSeries),
		Explanation: "Two loads stand in series between the rails. Neither gets enough voltage, so that both stay off.",
		Example: "H1 lamp\n" +
			"H2 lamp\n" +
			"1: -> H1 -> @x\n" +
			"2: @x -> H2\n",
	},
	{
		Code: codeTimedSeal, Grade: gradeOf(codeTimedSeal),
		Explanation: "A timed contact of an on-delay timer is to hold a button on the timer's own rung. It closes too late for a button that was only dabbed; an instantaneous contact would hold.",
		Example: "S1 button\n" +
			"KT1 on-delay 4 s\n" +
			"1: (S1.no | KT1.notc) -> KT1\n",
	},
	{
		Code: codeTooDeep, Grade: gradeOf(codeTooDeep),
		Explanation: "Groups may stand within groups to a depth of 100. What stands deeper is not read.",
	},
	{
		Code: codeTooFine, Grade: gradeOf(codeTooFine),
		Explanation: "Times are exact to the nanosecond, voltages to 1 mV and tolerances to 1/100 %. A number that needs more digits is reported rather than rounded.",
		Example: "KT1 on-delay 0.0000000001 s\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeTooManyContacts, Grade: gradeOf(codeTooManyContacts),
		Explanation: "A circuit has at most 100000 contacts. What stands behind that is left out.",
	},
	{
		Code: codeTooManyDevices, Grade: gradeOf(codeTooManyDevices),
		Explanation: "A circuit has at most 10000 devices. What stands behind that is left out.",
	},
	{
		Code: codeTooMany, Grade: gradeOf(codeTooMany),
		Explanation: "Only the first 200 faults are kept. Cure them and read the text again.",
	},
	{
		Code: codeTrailing, Grade: gradeOf(codeTrailing),
		Explanation: "Something stands behind the end of what a line can say. A remark begins with #.",
		Example:     "circuit \"Belt\" of the packing line\n",
	},
	{
		Code: codeUnclosed, Grade: gradeOf(codeUnclosed),
		Explanation: "A text in quotes ends on the line on which it begins.",
		Example:     "circuit \"Belt\n",
	},
	{
		Code: codeUnexpected, Grade: gradeOf(codeUnexpected),
		Explanation: "Something else should stand at this place. The message says what.",
		Example:     "supply dc 24 V\n",
	},
	{
		Code: codeUnknownAction, Grade: gradeOf(codeUnknownAction),
		Explanation: "The actions of a script are close, open, press, release, turn, trip, reset, set, and supply off or on.",
		Example: "script \"Start\"\n" +
			"  1 s kick S1\n",
	},
	{
		Code: codeUnknownDevice, Grade: gradeOf(codeUnknownDevice),
		Explanation: "A tag is used that no line declares. Upper and lower case matter.",
		Example: "H1 lamp\n" +
			"1: K7.no -> H1\n",
	},
	{
		Code: codeUnknownKind, Grade: gradeOf(codeUnknownKind),
		Explanation: "The word behind the tag is no kind of device and no timer function.",
		Example: "K1 realy\n" +
			"1: -> K1\n",
	},
	{
		Code: codeUnknownLine, Grade: gradeOf(codeUnknownLine),
		Explanation: "A line begins with a tag and a kind, with a rung's number and a colon, with the time of an action, or with one of the words circuit, station, aim, trap, caution, try, say, supply, plant, wire, script, expect and end.",
		Example:     "-> K1\n",
	},
	{
		Code: codeUnknownPosition, Grade: gradeOf(codeUnknownPosition),
		Explanation: "A selector has no position of this name.",
		Example: "S2 selector off auto\n" +
			"H1 lamp\n" +
			"1: S2.hand -> H1\n",
	},
	{
		Code: codeUnknownSignal, Grade: gradeOf(codeUnknownSignal),
		Explanation: "An expectation watches a tag alone, for its coil or load, or a tag with a dot and one of its contacts. A button or switch has no coil: name its contact.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: S1.no -> H1\n" +
			"script \"Dab\"\n" +
			"  expect S1 never\n",
	},
	{
		Code: codeUnit, Grade: gradeOf(codeUnit),
		Explanation: "The units of time are ms, s, min and h, and that of voltage is V.",
		Example: "KT1 on-delay 4 sec\n" +
			"1: -> KT1\n",
	},
	{
		Code: codeBracket, Grade: gradeOf(codeBracket),
		Explanation: "Every opening bracket has a closing one on the same line, and the other way round.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: (S1.no -> H1\n",
	},
	{
		Code: codeUnused, Grade: gradeOf(codeUnused),
		Explanation: "A device is declared, but no rung and no plant rule has to do with it.",
		Example:     "K1 relay\n",
	},
	{
		Code: codeWrongAction, Grade: gradeOf(codeWrongAction),
		Explanation: "A script can do with a device what its kind allows: a button is pressed and released, a switch closed and opened, a selector turned, an overload tripped and reset, a timer set.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: S1.no -> H1\n" +
			"script \"Dab\"\n" +
			"  1 s close S1\n",
	},
	{
		Code: codeWrongContact, Grade: gradeOf(codeWrongContact),
		Explanation: "A device has no contact of this name. Timed contacts are named by what they do: notc and ncto belong to an on-delay timer, noto and nctc to an off-delay timer, tno and tnc to every other one, star and delta to a star-delta timer.",
		Example: "KT2 off-delay 4 s\n" +
			"H1 lamp\n" +
			"1: -> KT2\n" +
			"2: KT2.notc -> H1\n",
	},
	{
		Code: codeWrongLoad, Grade: gradeOf(codeWrongLoad),
		Explanation: "A rung cannot feed this. Buttons, switches and contacts are no loads; a latching relay is fed by its set and reset coils.",
		Example: "S1 button\n" +
			"H1 lamp\n" +
			"1: -> S1\n" +
			"2: S1.no -> H1\n",
	},
	{
		Code: codeWrongParameter, Grade: gradeOf(codeWrongParameter),
		Explanation: "A kind of device does not take this parameter, or not twice. The message lists what it does take.",
		Example: "K1 relay 4 s\n" +
			"1: -> K1\n",
	},
	{
		Code: codeWrongPlant, Grade: gradeOf(codeWrongPlant),
		Explanation: "A plant rule moves a device that senses the plant (limit, float, pressure, flow, photo, proximity, thermostat, speed) after a load has started or stopped.",
		Example: "S1 button\n" +
			"M1 contactor\n" +
			"1: S1.no -> M1\n" +
			"plant S1 closes 4 s after M1 starts\n",
	},
	{
		Code: codeWrongSpan, Grade: gradeOf(codeWrongSpan),
		Explanation: "The stretches of time of an expectation follow one another, and each ends behind its start. Stretches that touch mean a drop-out of no width, and one of no length a pulse of no width.",
		Example: "H1 lamp\n" +
			"1: -> H1\n" +
			"script \"On\"\n" +
			"  expect H1 on 5 s .. 1 s\n",
	},
	{
		Code: codeZeroTime, Grade: gradeOf(codeZeroTime),
		Explanation: "A preset, a travel time, a “for” and the end of a run are longer than zero.",
		Example: "KT1 on-delay 0 s\n" +
			"1: -> KT1\n",
	},
}
