package misread_test

import (
	"strings"
	"testing"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
)

// families are the two circuits of the catalogue, with a preset of 5 s.
func families(t *testing.T) map[string]*circuit.Circuit {
	on, off := single(t, "on-delay 5 s", "notc", "ncto"), single(t, "off-delay 5 s", "noto", "nctc")
	return map[string]*circuit.Circuit{"notc": on, "ncto": on, "noto": off, "nctc": off}
}

// The example answers of the catalogue, word for word.
func TestCatalogue(t *testing.T) {
	const never, always = "never", "always"
	for _, row := range [][4]string{
		{"", "S1", "notc", "7-12"}, {"", "S3", "notc", "11-13"}, {"", "S2", "notc", never},
		{"", "S3", "noto", "2-18"}, {"", "S4", "noto", "2-16"},
		{"M01", "S1", "notc", "17-end"},
		{"M02", "S1", "notc", "2-17"}, {"M02", "S1", "noto", "7-12"},
		{"M03", "S1", "notc", "7-17"}, {"M03", "S1", "noto", "7-17"},
		{"M04", "S1", "notc", "2-12"},
		{"M05", "S3", "notc", "8-13"},
		{"M06", "S2", "notc", "7-end"},
		{"M07", "S1", "notc", "2-7"},
		{"M08", "S1", "notc", "7-8"},
		{"M09", "S1", "notc", "0-7 12-end"},
		{"M10", "S1", "notc", never}, {"M10", "S1", "ncto", always},
		{"M11", "S1", "notc", "7-end"},
		{"M12", "S1", "noto", "2-7"},
		{"M13", "S1", "noto", "2-12"},
		{"M14", "S3", "noto", "2-10"},
		{"M15", "S1", "ncto", "7-12"},
		{"M16", "S1", "notc", "2-7"}, {"M16", "S1", "ncto", "0-2 7-end"}, {"M16", "S1", "noto", never}, {"M16", "S1", "nctc", always},
		{"M17", "S1", "notc", "5-12"},
		{"M18", "S1", "noto", "2-12"}, {"M18", "S2", "noto", "2-7"},
		{"M19", "S4", "noto", "2-13"},
		{"M20", "S5", "notc", "6-8"},
	} {
		expectSingle(t, families(t), row[0], row[1], row[2], row[3])
	}
}

// expectSingle holds the contact, and the lamp behind it, against an answer.
func expectSingle(t *testing.T, on map[string]*circuit.Circuit, id, script, contact, want string) {
	t.Helper()
	c := on[contact]
	r := misread.NewRunner(c, engine.Options{})
	p := r.Right(presses()[script])
	if id != "" {
		var err error
		if p, err = r.Play(presses()[script], id); err != nil {
			t.Errorf("%s: %v", id, err)
			return
		}
	}
	lamp := "H1"
	if contact == "ncto" || contact == "nctc" {
		lamp = "H2"
	}
	for _, name := range []string{"KT1." + contact, lamp} {
		if got := times(p.Edges(signal(t, c, name)), p.End); got != want {
			t.Errorf("%s %s %s: %s is on %s, want %s", id, script, contact, name, got, want)
		}
	}
}

// What every reading answers on S1 to S5, derived by hand from its rule. A dash
// is the right answer: the rule says nothing of that family.
//
// Where the catalogue leaves a choice: M06 ignores a press while it times or is
// operated; M08 blips for a fifth of the preset; M12 times from the latest press;
// M17 closes with the coil at any time after the preset; M20 is used up when the
// contact has returned.
func TestEveryPress(t *testing.T) {
	const rightOpen, rightOff = "7-12, never, 11-13, never, 6-8 20-22", "2-17, 2-10, 2-18, 2-16, 1-13 15-27"
	const coil, slid = "2-12, 2-5, 2-5 6-13, 2-6 9-11, 1-8 15-22", "7-17, 7-10, 7-10 11-18, 7-11 14-16, 6-13 20-27"
	const none, all = "never, never, never, never, never", "always, always, always, always, always"
	for id, row := range map[string][4]string{ // notc, ncto, noto, nctc
		"":    {rightOpen, not(rightOpen), rightOff, not(rightOff)},
		"M01": {"17-end, 10-end, 18-end, 16-end, 13-15 27-end", "0-17, 0-10, 0-18, 0-16, 0-13 15-27", "-", "-"},
		"M02": {rightOff, not(rightOff), rightOpen, not(rightOpen)},
		"M03": {slid, not(slid), slid, not(slid)},
		"M04": {coil, not(coil), coil, not(coil)},
		"M05": {"7-12, never, 8-13, 10-11, 6-8 20-22", "0-7 12-end, always, 0-8 13-end, 0-10 11-end, 0-6 8-20 22-end", "-", "-"},
		"M06": {"7-12, 7-end, 7-13, 7-11, 6-8 20-22", "0-7 12-end, 0-7, 0-7 13-end, 0-7 11-end, 0-6 8-20 22-end", "-", "-"},
		"M07": {"2-7, 2-5, 2-5 6-11, 2-6 9-11, 1-6 15-20", not("2-7, 2-5, 2-5 6-11, 2-6 9-11, 1-6 15-20"), "-", "-"},
		"M08": {"7-8, never, 11-12, never, 6-7 20-21", not("7-8, never, 11-12, never, 6-7 20-21"), "-", "-"},
		"M09": {not(rightOpen), rightOpen, not(rightOff), rightOff},
		"M10": {none, all, none, all},
		"M11": {"7-end, never, 11-end, never, 6-end", "0-7, always, 0-11, always, 0-6", "-", "-"},
		"M12": {"-", "-", "2-7, 2-7, 2-11, 2-7 9-14, 1-6 15-20", not("2-7, 2-7, 2-11, 2-7 9-14, 1-6 15-20")},
		"M13": {"-", "-", coil, not(coil)},
		"M14": {"-", "-", "2-17, 2-10, 2-10, 2-11, 1-13 15-27", not("2-17, 2-10, 2-10, 2-11, 1-13 15-27")},
		"M15": {rightOpen, rightOpen, rightOff, rightOff},
		"M16": {"2-7, 2-5, 2-5 6-11, 2-6 9-11, 1-6 15-20", not("2-7, 2-5, 2-5 6-11, 2-6 9-11, 1-6 15-20"), none, all},
		"M17": {"5-12, never, 6-13, 5-6 9-11, 5-8 15-22", not("5-12, never, 6-13, 5-6 9-11, 5-8 15-22"), "-", "-"},
		"M18": {"-", "-", "2-12, 2-7, 2-13, 2-7 9-14, 1-8 15-22", not("2-12, 2-7, 2-13, 2-7 9-14, 1-8 15-22")},
		"M19": {"-", "-", "2-17, 2-10, 2-17, 2-13, 1-13 15-27", not("2-17, 2-10, 2-17, 2-13, 1-13 15-27")},
		"M20": {"7-12, never, 11-13, never, 6-8", not("7-12, never, 11-13, never, 6-8"),
			"2-17, 2-10, 2-18, 2-16, 1-13", not("2-17, 2-10, 2-18, 2-16, 1-13")},
	} {
		for i, contact := range []string{"notc", "ncto", "noto", "nctc"} {
			if row[i] == "-" {
				r, _ := misread.Find(id)
				if ok, reason := misread.Applies(families(t)[contact], r); ok || reason == "" {
					t.Errorf("%s applies to %s", id, contact)
				}
				continue
			}
			for j, want := range strings.Split(row[i], ", ") {
				expectSingle(t, families(t), id, []string{"S1", "S2", "S3", "S4", "S5"}[j], contact, want)
			}
		}
	}
}

// not turns answers round: on where they are off.
func not(answers string) string {
	var list []string
	for _, a := range strings.Split(answers, ", ") {
		switch a {
		case "never":
			a = "always"
		case "always":
			a = "never"
		default:
			out, from := []string{}, "0"
			for _, part := range strings.Fields(a) {
				on, off, _ := strings.Cut(part, "-")
				if on != from {
					out = append(out, from+"-"+on)
				}
				from = off
			}
			if from != "end" {
				out = append(out, from+"-end")
			}
			a = strings.Join(out, " ")
		}
		list = append(list, a)
	}
	return strings.Join(list, ", ")
}

// The examples of sections B and C: the right answer and the wrong one.
func TestExamples(t *testing.T) {
	for id, want := range map[string][2]string{
		"C01":  {"1-2; never", "1-end; 6-end"},
		"C02":  {"1-end; 6-end", "1-2; never"},
		"C03":  {"7-12", "2-12"},
		"C04":  {"6-end", "never"},
		"C05":  {"1-4", "1-end"},
		"C06":  {"1-end", "1-6"},
		"C07":  {"3-end", "6-end"},
		"C08":  {"1-11; 11.1-end", "1-1.1; 11.1-end"},
		"C09":  {"11.03-11.08", "never"},
		"C10":  {"11-end", "8-end"},
		"C11":  {"1-4", "1-9"},
		"C12":  {"8-end", "5-end"},
		"C13":  {"7-20; 4-24; 1-29", "7-29; 4-24; 1-20"},
		"C14":  {"1-end; 3-end", "1-end; 1-end"},
		"P01":  {"3-13", "7-13"},
		"P02":  {"4-end; 11-end", "4-end; 14-end"},
		"P03":  {"11-13", "8-13"},
		"P04":  {"8-12", "never"},
		"P04b": {"never", "8-end"},
		"P05":  {"7-12", "7-7.02"},
		"P06":  {"never", "6-11 16-end"},
		"P09":  {"never", "1-6"},
		"P11":  {"1.005-11", "6-11"},
		"P12":  {"never", "0-5"},
		"P13":  {"1-4; 1-4", "1-8; 1-4 6-8"},
		"P14":  {"1-6", "1-11"},
		"P14b": {"1-6", "1-3"},
		"P16":  {"never", "1-end"},
		"P17":  {"9-end", "13-end"},
	} {
		r, known := misread.Find(id)
		if !known {
			t.Errorf("there is no %s", id)
			continue
		}
		c, s, signals := r.Example.Item()
		runner := misread.NewRunner(c, engine.Options{})
		right := answer(runner.Right(s), signals)
		p, err := runner.Play(s, id)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		if wrong := answer(p, signals); right != want[0] || wrong != want[1] {
			t.Errorf("%s: right %s, wrong %s; want %s and %s", id, right, wrong, want[0], want[1])
		}
	}
}

func answer(p *misread.Prediction, signals []circuit.Signal) string {
	var list []string
	for _, s := range signals {
		list = append(list, times(p.Edges(s), p.End))
	}
	return strings.Join(list, "; ")
}
