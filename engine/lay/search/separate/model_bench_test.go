package separate

import "testing"

func BenchmarkModel(b *testing.B) {
	for _, name := range []string{"swim", "shirts", "fu"} {
		b.Run(name, func(b *testing.B) {
			_, p := readInstance(b, name)
			for b.Loop() {
				newModel(p, 1)
			}
		})
	}
}

func BenchmarkFirst(b *testing.B) {
	for _, name := range []string{"swim", "shirts", "trousers"} {
		b.Run(name, func(b *testing.B) {
			_, p := readInstance(b, name)
			m := newModel(p, 1)
			for b.Loop() {
				newState(m).first()
			}
		})
	}
}
