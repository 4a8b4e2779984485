// Package seat is the board's outline: from measurements or points to a closed
// path, its notches, its edges' roles and the checks of a tape measure.
package seat

// Role says which edge of the seat a segment of the outline belongs to. A
// round or oval seat has the one role Front.
type Role uint8

// Roles, in the order in which edges are listed everywhere.
const (
	Front Role = iota
	Left
	Right
	Back
)

// Roles lists all roles in order.
func Roles() [4]Role { return [4]Role{Front, Left, Right, Back} }

// String names the role as files and faults do: front, left, right, back.
func (r Role) String() string {
	switch r {
	case Front:
		return "front"
	case Left:
		return "left"
	case Right:
		return "right"
	}
	return "back"
}
