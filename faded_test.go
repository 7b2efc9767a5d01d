package tarry_test

import (
	"errors"
	"regexp"
	"testing"

	"tarry"
)

// TestFadedSheets: five sheets of each exercise, each with fewer given rows than
// the one before or as many, and the keys behind them.
func TestFadedSheets(t *testing.T) {
	r := tarry.ExerciseRequest{Level: "timers", Count: 2, Variant: "SPRING-07"}
	plain, err := tarry.MakeExercises(r)
	if err != nil {
		t.Fatal(err)
	}
	r.Faded = true
	faded, err := tarry.MakeExercises(r)
	if err != nil {
		t.Fatal(err)
	}
	sheets := func(out tarry.Exercises) int {
		return len(regexp.MustCompile(`/Type ?/Page\b`).FindAll(out.Files[0].Data, -1))
	}
	if a, b := sheets(plain), sheets(faded); b != a+8 {
		t.Errorf("%d sheets become %d, not eight more", a, b)
	}
	if faded.Files[0].Name == plain.Files[0].Name {
		t.Errorf("both are called %s", plain.Files[0].Name)
	}
	r.Form = "qti21"
	if _, err := tarry.MakeExercises(r); !errors.Is(err, tarry.ErrInput) {
		t.Errorf("a faded package: %v", err)
	}
}
