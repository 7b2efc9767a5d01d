package tarry

import "unicode/utf8"

// places turns places in a text from bytes, as our readers count, to UTF-16
// units, as a browser counts, and back. The table is empty for plain ASCII,
// where both are the same.
type places struct {
	length int // in bytes
	table  []int32
}

func newPlaces(text []byte) places {
	u := places{length: len(text)}
	plain := true
	for _, b := range text {
		plain = plain && b < utf8.RuneSelf
	}
	if plain {
		return u
	}
	u.table = make([]int32, len(text)+1)
	count := int32(0)
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		for j := range size {
			u.table[i+j] = count
		}
		if count++; r > 0xffff {
			count++
		}
		i += size
	}
	u.table[len(text)] = count
	return u
}

// out is the UTF-16 place of a byte; a byte within a character is at its start.
func (u places) out(at int) int {
	at = min(max(at, 0), u.length)
	if u.table == nil {
		return at
	}
	return int(u.table[at])
}

// in is the byte at a UTF-16 place.
func (u places) in(at int) int {
	if u.table == nil {
		return min(max(at, 0), u.length)
	}
	low, high := 0, u.length
	for low < high {
		mid := (low + high) / 2
		if int(u.table[mid]) < at {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}
