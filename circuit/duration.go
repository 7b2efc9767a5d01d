package circuit

import (
	"strconv"
	"strings"
	"time"
)

// FormatTime writes a time as the notation does, exactly: 14.5 s, 300 ms,
// 1 min 30 s, 2 h, 0 s.
func FormatTime(d time.Duration) string {
	if d < 0 {
		return "-" + FormatTime(-d)
	}
	if d > 0 && d < time.Second {
		return decimal(d, time.Millisecond) + " ms"
	}
	var parts []string
	if h := d / time.Hour; h > 0 {
		parts = append(parts, strconv.FormatInt(int64(h), 10)+" h")
	}
	if m := d % time.Hour / time.Minute; m > 0 {
		parts = append(parts, strconv.FormatInt(int64(m), 10)+" min")
	}
	if s := d % time.Minute; s > 0 || d == 0 {
		parts = append(parts, decimal(s, time.Second)+" s")
	}
	return strings.Join(parts, " ")
}

// decimal writes d in units of unit, a power of ten of nanoseconds, with as
// many digits behind the point as it needs.
func decimal(d, unit time.Duration) string {
	whole := strconv.FormatInt(int64(d/unit), 10)
	rest := d % unit
	if rest == 0 {
		return whole
	}
	digits := strconv.FormatInt(int64(unit+rest), 10)[1:]
	return whole + "." + strings.TrimRight(digits, "0")
}
