package skyline

// Sky lays pieces on plain goods along a skyline: always into the gap nearest
// to the cut end, always the piece that fits it best, and of equally fitting
// ones the first in a list. What the list decides is small enough to be
// searched and large enough to reach good lays (after the scoring of Leung,
// Zhang and Sim, "A two-stage intelligent search algorithm for the
// two-dimensional strip packing problem", European Journal of Operational
// Research 215, 2011).
type Sky struct {
	g     *Grid
	width int64
	ways  [][2]size // by kind; the second is zero when there is none
	area  []float64 // of the grown piece, by kind
	byW   sizeIndex // ways by their width: those that fill a gap
	byL   sizeIndex // ways by their length: those that end level with a wall

	segs  []seg
	next  []int32 // the list of pieces left, as links; the last entry is its head
	prev  []int32
	first []int32 // by kind: the first place of the list that still holds one, or the list's length
	alike []int32 // by place of the list: the next place with the same kind
	last  []int32 // by kind, while a filling starts
	puts  []stood
	// Strict keeps a piece as wide as the gap out of it while it would stand out
	// over a wall and any other piece fits.
	Strict bool
	// Count is the number of pieces looked at so far.
	Count int64
}

type size struct{ l, w int64 }

// seg is a stretch of the skyline: [y, y+w) across is filled up to x.
type seg struct{ x, y, w int64 }

// NewSky makes a layer for the sizes of a plain instance.
func NewSky(g *Grid) *Sky {
	n := 0
	for _, c := range g.Count {
		n += c
	}
	s := &Sky{
		g: g, width: g.W,
		next: make([]int32, n+1), prev: make([]int32, n+1), alike: make([]int32, n+1),
		first: make([]int32, len(g.Sizes)), last: make([]int32, len(g.Sizes)),
	}
	for _, ways := range g.Sizes {
		var ws [2]size
		for i, w := range ways {
			ws[i] = size{w.L, w.W}
		}
		s.ways = append(s.ways, ws)
		s.area = append(s.area, float64(ws[0].l)*float64(ws[0].w))
	}
	s.byW = newSizeIndex(s.ways, func(z size) int64 { return z.w })
	s.byL = newSizeIndex(s.ways, func(z size) int64 { return z.l })
	return s
}

// How well a piece fits a gap.
const (
	fitsNothing = iota
	fitsFarWall // level with a wall, but not the one it would stand at
	fitsWall
	fitsGap // the whole gap across, so that none of it is lost
	fitsGapAndWall
	fitsAll
)

// choice is the best piece for a gap so far.
type choice struct {
	place int32 // in the list
	kind  int32
	way   int32
	fit   int32
}

// item is a piece of the list: its kind, and the way in which it is to lie
// when nothing else speaks for the other, 2*kind+way.
type item int32

func (i item) kind() int32 { return int32(i) >> 1 }

// Fill lays the pieces of the list up to limit. It
// gives how far they reach and the area that found no place, in square units;
// it stops early, with a negative reach, as soon as more than spare square
// units are lost for good.
func (s *Sky) Fill(list []item, limit int64, spare float64) (reach int64, left float64) {
	n := int32(len(list))
	s.puts = s.puts[:0]
	s.segs = append(s.segs[:0], seg{0, 0, s.width})
	for k := range s.first {
		s.first[k] = n
	}
	for i := n - 1; i >= 0; i-- {
		s.next[i], s.prev[i] = i+1, i-1
		k := list[i].kind()
		s.alike[i] = s.first[k]
		s.first[k] = i
	}
	if n == 0 {
		return 0, 0
	}
	s.prev[0], s.next[n], s.prev[n] = n, 0, n-1
	lost := 0.0
	for remaining := n; remaining > 0; {
		at := 0
		for i := 1; i < len(s.segs); i++ { // the lowest stretch, and of those the first
			if s.segs[i].x < s.segs[at].x {
				at = i
			}
		}
		gap := s.segs[at]
		if gap.x >= limit {
			break
		}
		near, far := int64(endless), int64(endless)
		if at > 0 {
			near = s.segs[at-1].x - gap.x
		}
		if at+1 < len(s.segs) {
			far = s.segs[at+1].x - gap.x
		}
		end := limit - gap.x
		c := s.choose(list, n, gap.w, near, far, end)
		if c.place == n {
			// Nothing fits: the gap is lost up to its lower wall.
			up := min(near, far, end)
			lost += float64(up) * float64(gap.w)
			if lost > spare {
				return -1, lost
			}
			s.segs[at].x += up
			s.join(at)
			continue
		}
		s.first[c.kind] = s.alike[c.place]
		s.next[s.prev[c.place]] = s.next[c.place]
		s.prev[s.next[c.place]] = s.prev[c.place]
		remaining--
		z := s.ways[c.kind][c.way]
		// It stands at the higher wall, so that the rest of the gap is wide.
		y := gap.y
		if (c.fit == fitsFarWall) == (far < near) && far != near {
			y = gap.y + gap.w - z.w
		}
		s.puts = append(s.puts, stood{c.kind, c.way, gap.x, y})
		s.stand(at, y, z)
		reach = max(reach, gap.x+z.l)
	}
	for i := s.next[n]; i < n; i = s.next[i] {
		left += s.area[list[i].kind()]
	}
	return reach, left
}

// choose looks at the pieces that fit well first, found by their sizes, and
// takes the first of the list that fits at all when there are none.
func (s *Sky) choose(list []item, n int32, gap, near, far, end int64) choice {
	c := choice{place: n, fit: -1}
	for _, e := range s.byW.of(gap) {
		p := s.first[e.kind]
		if p == n || e.other > end {
			continue
		}
		fit, l := int32(fitsGap), e.other
		switch {
		case l == near && l == far || l == end:
			fit = fitsAll
		case l == near || l == far:
			fit = fitsGapAndWall
		}
		if s.Strict && fit == fitsGap && (l > near || l > far) {
			continue
		}
		if fit > c.fit || fit == c.fit && p < c.place {
			c = choice{p, e.kind, e.way, fit}
		}
	}
	if c.fit >= 0 {
		s.Count++
		return c
	}
	wall, other := max(near, far), min(near, far)
	level := func(l int64, fit int32) {
		if l > end || fit < c.fit {
			return
		}
		for _, e := range s.byL.of(l) {
			if p := s.first[e.kind]; p < c.place && e.other < gap {
				c = choice{p, e.kind, e.way, fit}
			}
		}
	}
	level(wall, fitsWall)
	level(end, fitsWall)
	if c.fit < 0 {
		level(other, fitsFarWall)
	}
	if c.fit >= 0 {
		s.Count++
		return c
	}
	for i := s.next[n]; i < n; i = s.next[i] {
		k, first := list[i].kind(), int32(list[i]&1)
		s.Count++
		z := &s.ways[k]
		if z[first].w != 0 && z[first].w <= gap && z[first].l <= end {
			return choice{i, k, first, fitsNothing}
		}
		if second := 1 - first; z[second].w != 0 && z[second].w <= gap && z[second].l <= end {
			return choice{i, k, second, fitsNothing}
		}
	}
	return c
}

// join merges a stretch with neighbours of the same height.
func (s *Sky) join(at int) {
	if at+1 < len(s.segs) && s.segs[at+1].x == s.segs[at].x {
		s.segs[at].w += s.segs[at+1].w
		s.segs = append(s.segs[:at+1], s.segs[at+2:]...)
	}
	if at > 0 && s.segs[at-1].x == s.segs[at].x {
		s.segs[at-1].w += s.segs[at].w
		s.segs = append(s.segs[:at], s.segs[at+1:]...)
	}
}

// stand puts a piece on a stretch, at one of its ends.
func (s *Sky) stand(at int, y int64, z size) {
	g := s.segs[at]
	top := seg{g.x + z.l, y, z.w}
	if z.w == g.w {
		s.segs[at] = top
		s.join(at)
		return
	}
	s.segs = append(s.segs, seg{})
	copy(s.segs[at+1:], s.segs[at:])
	if y == g.y {
		s.segs[at] = top
		s.segs[at+1] = seg{g.x, g.y + z.w, g.w - z.w}
		s.join(at)
		return
	}
	s.segs[at] = seg{g.x, g.y, g.w - z.w}
	s.segs[at+1] = top
	s.join(at + 1)
}

// stood is a put in steps.
type stood struct {
	kind, way int32
	x, y      int64
}

// Puts appends the places of the last filling to out.
func (s *Sky) Puts(out []Put) []Put {
	for _, u := range s.puts {
		out = append(out, s.g.Put(int(u.kind), s.g.Sizes[u.kind][u.way], u.x, u.y))
	}
	return out
}

// sizeIndex finds the ways of all kinds with one given extent.
type sizeIndex struct {
	table []int32 // hash of the extent: number of its bucket + 1
	keys  []int64
	from  []int32 // first entry of each bucket, and the end
	list  []sized
}

type sized struct {
	kind, way int32
	other     int64 // the other extent
}

func newSizeIndex(ways [][2]size, of func(size) int64) sizeIndex {
	var x sizeIndex
	groups := map[int64][]sized{}
	for k, ws := range ways {
		for w, z := range ws {
			if z.w == 0 {
				continue
			}
			key := of(z)
			if len(groups[key]) == 0 {
				x.keys = append(x.keys, key)
			}
			groups[key] = append(groups[key], sized{int32(k), int32(w), z.l + z.w - key})
		}
	}
	bits := 4
	for 1<<bits < 4*len(x.keys) {
		bits++
	}
	x.table = make([]int32, 1<<bits)
	for i, key := range x.keys {
		x.from = append(x.from, int32(len(x.list)))
		x.list = append(x.list, groups[key]...)
		h := x.hash(key)
		for x.table[h] != 0 {
			h = (h + 1) & uint64(len(x.table)-1)
		}
		x.table[h] = int32(i + 1)
	}
	x.from = append(x.from, int32(len(x.list)))
	return x
}

func (x *sizeIndex) hash(key int64) uint64 {
	return (uint64(key) * 0x9E3779B97F4A7C15) >> 40 & uint64(len(x.table)-1)
}

func (x *sizeIndex) of(key int64) []sized {
	for h := x.hash(key); ; h = (h + 1) & uint64(len(x.table)-1) {
		b := x.table[h]
		if b == 0 {
			return nil
		}
		if x.keys[b-1] == key {
			return x.list[x.from[b-1]:x.from[b]]
		}
	}
}
