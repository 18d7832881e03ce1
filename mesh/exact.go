package mesh

import (
	"math"
	"math/big"
)

// bigInts returns the values as integers, all multiplied by one power of two.
func bigInts(values ...float64) []*big.Int {
	const none = math.MaxInt
	low := none
	for _, v := range values {
		if v != 0 {
			_, e := math.Frexp(v)
			low = min(low, e)
		}
	}
	ints := make([]*big.Int, len(values))
	for i, v := range values {
		ints[i] = new(big.Int)
		if v == 0 {
			continue
		}
		f, e := math.Frexp(v)
		ints[i].SetInt64(int64(f * (1 << 53)))
		ints[i].Lsh(ints[i], uint(e-low))
	}
	return ints
}

func bigSub(a, b *big.Int) *big.Int { return new(big.Int).Sub(a, b) }

func bigAdd(a, b *big.Int) *big.Int { return new(big.Int).Add(a, b) }

func bigMul(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }

// bigCross returns a d - b c.
func bigCross(a, b, c, d *big.Int) *big.Int { return bigSub(bigMul(a, d), bigMul(b, c)) }

// orient2dBig is orient2d in integers.
func orient2dBig(a, b, c Vec2) int {
	v := bigInts(a.X, a.Y, b.X, b.Y, c.X, c.Y)
	return bigCross(bigSub(v[0], v[4]), bigSub(v[1], v[5]), bigSub(v[2], v[4]), bigSub(v[3], v[5])).Sign()
}

// orient3dBig is orient3d in integers.
func orient3dBig(a, b, c, d Vec) int {
	v := bigInts(a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z)
	for i := range 9 {
		v[i] = bigSub(v[i], v[9+i%3])
	}
	return -bigDet(v[0:3], v[3:6], v[6:9]).Sign()
}

// bigDet returns the determinant with rows a, b, c.
func bigDet(a, b, c []*big.Int) *big.Int {
	det := bigMul(a[2], bigCross(b[0], b[1], c[0], c[1]))
	det = bigAdd(det, bigMul(b[2], bigCross(c[0], c[1], a[0], a[1])))
	return bigAdd(det, bigMul(c[2], bigCross(a[0], a[1], b[0], b[1])))
}

// inCircleBig is inCircle in integers.
func inCircleBig(a, b, c, d Vec2) int {
	v := bigInts(a.X, a.Y, b.X, b.Y, c.X, c.Y, d.X, d.Y)
	row := func(i int) []*big.Int {
		x, y := bigSub(v[i], v[6]), bigSub(v[i+1], v[7])
		return []*big.Int{x, y, bigAdd(bigMul(x, x), bigMul(y, y))}
	}
	return bigDet(row(0), row(2), row(4)).Sign()
}
