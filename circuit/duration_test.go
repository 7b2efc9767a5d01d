package circuit

import (
	"testing"
	"time"
)

func TestFormatTime(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0:                            "0 s",
		300 * time.Millisecond:       "300 ms",
		1500 * time.Microsecond:      "1.5 ms",
		1:                            "0.000001 ms",
		14500 * time.Millisecond:     "14.5 s",
		90 * time.Second:             "1 min 30 s",
		2 * time.Hour:                "2 h",
		time.Hour + time.Nanosecond:  "1 h 0.000000001 s",
		-4 * time.Second:             "-4 s",
		61*time.Minute + time.Second: "1 h 1 min 1 s",
	} {
		if got := FormatTime(d); got != want {
			t.Errorf("FormatTime(%d) = %q, want %q", d, got, want)
		}
	}
}
