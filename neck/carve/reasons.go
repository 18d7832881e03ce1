package carve

// Refusal says why a stage, or a bit, is refused. Its words are put to it where
// it is printed; the zero Refusal refuses nothing. Lengths are in mm.
type Refusal struct {
	Kind RefusalKind

	// Size is the cover that would remain, the allowance that nothing takes
	// wood off above, the width of what has no room, or the height asked for.
	Size float64

	X    float64 // where the cover is least
	Room Stretch // that is too short
	Base bool    // it is the router's base that has no room, and not the bit

	Counts Reference // what the height counts from

	Table  *TableSetting // whose refusals they are
	Reason Reason        // why the best bit and offset cannot be used
}

// RefusalKind is the kind of a refusal.
type RefusalKind int

const (
	Allowed         RefusalKind = iota
	RefusedCover                // too little wood over the rod channel
	RefusedFlats                // no flat takes off anything
	RefusedRoom                 // no room for bit or base between the ends of the run
	RefusedBearing              // the bearing holds the arc off the wood
	RefusedNoHeight             // no height of the bit takes off anything and stays clear of the target
	RefusedOwn                  // the builder's own height cuts nothing
	RefusedTable                // the router table does not do it so
	RefusedChoice               // no bit and offset that can be had can be used
)

// Refused reports whether there is a refusal at all.
func (r Refusal) Refused() bool { return r.Kind != Allowed }

// Verdict says how a bit suits the profile.
type Verdict struct {
	Kind  VerdictKind
	Touch Contact // what the bit is held by
	Share float64 // of the rounding that it leaves, 0 to 1

	// The common size that leaves least; its radius is 0 where there is none to
	// name. Remaining is what this bit leaves, and BestRemaining that one, mm³.
	Best                     Bit
	Remaining, BestRemaining float64
}

// VerdictKind is the kind of a verdict.
type VerdictKind int

const (
	VerdictOwn       VerdictKind = iota // the builder's own height is to blame, and no other bit helps
	VerdictUnusable                     // this bit cannot be used
	VerdictSuits                        // no common size leaves much less
	VerdictLittleUse                    // no common size is of much use
	VerdictTooBig
	VerdictOther // another bit of the same radius leaves less
	VerdictTooSmall
)

// Note is something that a builder should know besides the numbers.
type Note int

const (
	NoteBent      Note = iota // the flat back leaves wood over a depth line that is not straight
	NoteShortSled             // the neck overhangs the sled's shim
	NoteStraight              // the bit needs a straight edge above its arc
	NoteContact               // the bearing has little to run on
	NoteRidge                 // the router's base tips on a narrow ridge
	NoteBaseRoom              // the wood beyond the marks may foul the base
)
