package answer_test

import (
	"strings"
	"testing"

	"tarry/answer"
)

// TestCommaWithoutQuotes: an answer with a comma that nobody put in quotes is no
// shorter answer, but a fault of its row.
func TestCommaWithoutQuotes(t *testing.T) {
	list, problems := answer.ReadCSV(strings.NewReader("learner,item,signal,answer\n" +
		"Ada,one,H1,on 1 s .. 4 s, 8 s .. end\n" +
		"Bea,one,H1,\"on 1 s .. 4 s, 8 s .. end\"\n" +
		"Cas,one,H1,never,,\n"))
	if len(problems) != 1 || problems[0].Line != 2 || !strings.Contains(problems[0].Reason, "quotes") {
		t.Errorf("problems: %+v", problems)
	}
	if len(list) != 2 || list[0].Learner != "Bea" || len(list[0].Lines[0].At) != 3 || list[1].Learner != "Cas" {
		t.Errorf("answers: %+v", list)
	}
}

// TestCommaBehindSure: where there is a column for sure, the piece that the comma
// cut off stands in it.
func TestCommaBehindSure(t *testing.T) {
	list, problems := answer.ReadCSV(strings.NewReader("learner,item,signal,answer,sure\n" +
		"Ada,one,H1,on 1 s .. 4 s, 8 s .. end\n" +
		"Bea,one,H1,on 1 s .. 4 s,quite\n" +
		"Cas,one,H1,on 1 s .. 4 s,certain\n" +
		"Di,one,H1,on 1 s .. 4 s,8 s\n"))
	if len(problems) != 3 || problems[0].Line != 2 || problems[0].Note || !problems[1].Note || problems[2].Line != 5 || problems[2].Note ||
		!strings.Contains(problems[0].Reason, "must stand in quotes") {
		t.Errorf("problems: %+v", problems)
	}
	if len(list) != 2 || list[0].Learner != "Bea" || list[1].Learner != "Cas" || list[1].Lines[0].Sure != answer.Certain {
		t.Errorf("answers: %+v", list)
	}
}
