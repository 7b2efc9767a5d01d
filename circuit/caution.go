package circuit

// StandingCaution stands on every sheet and screen; a college may add words of
// its own. Common practice, in our words.
const StandingCaution = "Teaching material for an extra-low-voltage bench. Work dead, isolated and locked off; " +
	"have the wiring checked before energising. A timer may start something after you have let go. " +
	"Ordinary timers and controllers are not safety devices. Local codes and a licensed person decide."
