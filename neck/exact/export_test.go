package exact

// WithoutAsides calls a function while no cutter is moved aside.
func WithoutAsides(f func()) {
	all := asides
	asides = nil
	defer func() { asides = all }()
	f()
}
