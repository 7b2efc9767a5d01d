package trace

var partWords = [...]string{"coil", "set coil", "reset coil", "star", "delta", "contacts", "timed output",
	"delta output", "clock", "preset", "supply", "notice"}

// String returns the part's name in plain words.
func (p Part) String() string { return partWords[p] }

var endingWords = [...]string{"running", "finished", "chatter", "short circuit", "too many events"}

// String says in a few words how a run ended.
func (e Ending) String() string { return endingWords[e] }

var noticeWords = [...]string{"", "tie", "race", "race not looked into", "chatter", "short circuit", "no effect",
	"both coils", "too many events"}

// String returns the word under which a notice is marked.
func (k NoticeKind) String() string { return noticeWords[k] }
