package notation

import "tarry/diag"

// The codes of this package. They never change; a new fault gets a new one.
const (
	codeAbsurdTime      = "absurd-time"
	codeAfterEnd        = "after-end"
	codeBadCharacter    = "bad-character"
	codeBadNumber       = "bad-number"
	codeBadPin          = "bad-pin"
	codeBadPosition     = "bad-position"
	codeBadRails        = "bad-rails"
	codeBadTag          = "bad-tag"
	codeBareBar         = "missing-brackets"
	codeBothEnds        = "both-ends"
	codeBracket         = "unmatched-bracket"
	codeBridged         = "bridged-contact"
	codeControl         = "control-character"
	codeDeadRung        = "dead-rung"
	codeDoubleLine      = "duplicate-line"
	codeDoubleRung      = "duplicate-rung"
	codeDoubleScript    = "duplicate-script"
	codeDoubleTag       = "duplicate-tag"
	codeEmptyGroup      = "empty-group"
	codeFedTwice        = "fed-twice"
	codeLoneNet         = "lone-net"
	codeMissingArrow    = "missing-arrow"
	codeMissingContact  = "missing-contact"
	codeMissingCount    = "missing-count"
	codeMissingKind     = "missing-kind"
	codeMissingLoad     = "missing-load"
	codeMissingTime     = "missing-time"
	codeMissingUnit     = "missing-unit"
	codeNegativeTime    = "negative-time"
	codeNeverFed        = "never-fed"
	codeNoScript        = "no-script"
	codeNotExtraLow     = "not-extra-low"
	codeNotUTF8         = "not-utf8"
	codeNotYet          = "not-yet"
	codeOutsideRun      = "outside-run"
	codeRailsJoined     = "rails-joined"
	codeReserved        = "reserved-word"
	codeScriptOrder     = "script-order"
	codeSeries          = "series-loads"
	codeTimedSeal       = "timed-seal"
	codeTooDeep         = "too-deep"
	codeTooFine         = "too-fine"
	codeTooLarge        = "file-too-large"
	codeTooMany         = "too-many-faults"
	codeTooManyContacts = "too-many-contacts"
	codeTooManyDevices  = "too-many-devices"
	codeTrailing        = "trailing-text"
	codeUnclosed        = "unclosed-text"
	codeUnexpected      = "unexpected"
	codeUnit            = "unknown-unit"
	codeUnknownAction   = "unknown-action"
	codeUnknownDevice   = "unknown-device"
	codeUnknownKind     = "unknown-kind"
	codeUnknownLine     = "unknown-line"
	codeUnknownPosition = "unknown-position"
	codeUnknownSignal   = "unknown-signal"
	codeUnused          = "unused-device"
	codeWrongAction     = "wrong-action"
	codeWrongContact    = "wrong-contact"
	codeWrongLoad       = "wrong-load"
	codeWrongParameter  = "wrong-parameter"
	codeWrongPlant      = "wrong-plant"
	codeWrongSpan       = "wrong-span"
	codeZeroTime        = "zero-time"
)

// Codes lists every code that this package reports, in the order of the
// alphabet, with its explanation and an example. The caller must not change
// the list.
func Codes() []diag.Entry { return catalogue }

// gradeOf returns the grade of a code. Most are errors.
func gradeOf(code string) diag.Grade {
	switch code {
	case codeSeries, codeTimedSeal, codeNeverFed, codeBridged, codeNotExtraLow:
		return diag.Warning
	case codeUnused, codeLoneNet:
		return diag.Notice
	}
	return diag.Error
}
