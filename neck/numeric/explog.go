package numeric

import "math"

// The exponential and the logarithm are half of what a point of a section
// costs. These take one entry of a table and a short series each, which is two
// to three times as fast as the standard library's, and they are the same to
// the last bit on every processor: each product is rounded before it is added.

// How many entries the tables have, as powers of two.
const (
	expBits = 6
	logBits = 7
)

const (
	expSize = 1 << expBits
	logSize = 1 << logBits

	mantissaBits = 52
	exponentBias = 1023

	ln2Hi = 6.93147180369123816490e-01 // its last 20 bits are 0
	ln2Lo = 1.90821492927058770002e-10
)

// expTable holds 2^(i/64).
var expTable [expSize]float64

// logEntry is a point c of [1, 2], its inverse, and its logarithm, less that of 2
// in the upper half: so what is close to 1 from below is as exact to its own
// size as what is close from above.
type logEntry struct{ c, inverse, log float64 }

var logTable [logSize + 1]logEntry

func init() {
	for i := range expTable {
		expTable[i] = math.Exp2(float64(i) / expSize)
	}
	for i := range logTable {
		c := 1 + float64(i)/logSize
		logTable[i] = logEntry{c, 1 / c, math.Log(c / float64(1+upper(i)))}
	}
}

// Exp returns e^x, within one and a half units of the last place.
func Exp(x float64) float64 {
	if !(x > -700 && x < 700) {
		return math.Exp(x)
	}
	const perStep = expSize / math.Ln2
	// Adding and taking away 1.5 · 2^52 rounds to the nearest whole number.
	const whole = 3 << (mantissaBits - 1)
	k := float64(float64(x*perStep)+whole) - whole
	r := float64(x-float64(k*(ln2Hi/expSize))) - float64(k*(ln2Lo/expSize))
	// e^r - 1 for |r| <= ln 2/128.
	p := 1.0/24 + float64(r*(1.0/120))
	p = 1.0/6 + float64(r*p)
	p = 0.5 + float64(r*p)
	p = r + float64(float64(r*r)*p)
	n := int64(k)
	t := expTable[n&(expSize-1)]
	t += float64(t * p)
	return math.Float64frombits(math.Float64bits(t) + uint64(n>>expBits)<<mantissaBits)
}

// Log returns the natural logarithm of x, within three units of the last place.
func Log(x float64) float64 {
	b := math.Float64bits(x)
	e := int(b>>mantissaBits) - exponentBias
	if e <= -exponentBias || e > exponentBias {
		return math.Log(x) // 0, negative, not a number, or too small for the table
	}
	m := math.Float64frombits(b&(1<<mantissaBits-1) | exponentBias<<mantissaBits)
	i := int(b>>(mantissaBits-logBits-1)&(2*logSize-1)+1) >> 1
	c := &logTable[i]
	r := float64((m - c.c) * c.inverse)
	// ln(1+r) for |r| <= 1/256.
	p := 1.0/6 - float64(r*(1.0/7))
	p = 0.2 - float64(r*p)
	p = 0.25 - float64(r*p)
	p = 1.0/3 - float64(r*p)
	p = 0.5 - float64(r*p)
	p = r - float64(float64(r*r)*p)
	f := float64(e + upper(i))
	return float64(f*ln2Hi) + (c.log + (float64(f*ln2Lo) + p))
}

// upper returns 1 for an entry of the logarithm's table in the upper half.
func upper(i int) int { return (i + logSize/2) >> logBits }

// Pow returns x^y for x >= 0. Its relative error is that of the exponential and
// |y ln x| times the logarithm's: it is meant for powers of lengths' ratios.
func Pow(x, y float64) float64 { return Exp(y * Log(x)) }
