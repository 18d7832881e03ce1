package export

import "math"

// field is a column of a table of rows of type T, with what stands in it.
type field[T any] struct {
	Column
	cell  func(T) Cell
	bench bool // part of the narrow table, which holds what is read at the bench
}

// tableOf builds a table from fields and rows.
func tableOf[T any](fields []field[T], rows []T) *Table {
	t := &Table{}
	for _, f := range fields {
		t.Columns = append(t.Columns, f.Column)
	}
	for _, r := range rows {
		var cells []Cell
		for _, f := range fields {
			cells = append(cells, f.cell(r))
		}
		t.Add(cells...)
	}
	return t
}

// benchFields returns the fields of the narrow table, or all of them.
func benchFields[T any](fields []field[T], narrow bool) []field[T] {
	if !narrow {
		return fields
	}
	var kept []field[T]
	for _, f := range fields {
		if f.bench {
			kept = append(kept, f)
		}
	}
	return kept
}

// words is a column of text.
func words[T any](key string, f func(T) string) field[T] {
	return field[T]{Column: textColumn(key), cell: func(r T) Cell { return Text(f(r)) }}
}

// length is a column of lengths, from mm.
func length[T any](key string, f func(T) float64) field[T] {
	return field[T]{Column: lengthColumn(key), cell: func(r T) Cell { return finite(f(r)) }}
}

// area is a column of areas, from mm².
func area[T any](key string, f func(T) float64) field[T] {
	return field[T]{Column: Column{Key: key, Kind: AreaKind}, cell: func(r T) Cell { return finite(f(r)) }}
}

// inVolume is a column of volumes, from mm³.
func inVolume[T any](key string, f func(T) float64) field[T] {
	return field[T]{Column: Column{Key: key, Kind: VolumeKind}, cell: func(r T) Cell { return finite(f(r)) }}
}

// number is a column that is in its own unit whatever the table's.
func number[T any](key, unit string, f func(T) float64) field[T] {
	return field[T]{Column: numberColumn(key, unit), cell: func(r T) Cell { return finite(f(r)) }}
}

// count is a column of whole numbers.
func count[T any](key string, f func(T) int) field[T] {
	return field[T]{Column: Column{Key: key, Kind: CountKind}, cell: func(r T) Cell { return Number(float64(f(r))) }}
}

// onBench puts a column into the narrow table too.
func onBench[T any](f field[T]) field[T] {
	f.bench = true
	return f
}

// where blanks numbers where a row has none.
func where[T any](has func(T) bool, f func(T) float64) func(T) float64 {
	return func(r T) float64 {
		if !has(r) {
			return math.NaN()
		}
		return f(r)
	}
}

// lengthOrPlain parts numbers of which some are lengths: a column has one kind,
// so that each kind has columns of its own.
func lengthOrPlain[T any](isLength func(T) bool) (lengths, plain func(func(T) float64) func(T) float64) {
	lengths = func(f func(T) float64) func(T) float64 { return where(isLength, f) }
	plain = func(f func(T) float64) func(T) float64 {
		return where(func(r T) bool { return !isLength(r) }, f)
	}
	return lengths, plain
}

// finite makes an infinite value a blank.
func finite(v float64) Cell {
	if math.IsInf(v, 0) {
		v = math.NaN()
	}
	return Number(v)
}
