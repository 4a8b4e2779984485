// Package edit holds every change a user can make to a job, as commands that
// turn one snapshot into the next, and the history they form.
//
// The window previews a command as often as it likes and commits it once: one
// drag, one typed field, one choice is one entry of the history. Random IDs of
// new things are part of the command, so that applying it again gives the same
// job.
package edit

import (
	"slices"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Label names a command for people: the words are under
// "label.edit.<code>". Args are texts, whole numbers and lengths; an argument
// "field" is the rest of a key under "label.", such as
// "field.outline.front_width".
type Label struct {
	Code string
	Args []unit.Arg
}

func label(code string, args ...unit.Arg) Label { return Label{code, args} }

// Command is one change. Apply leaves its argument alone; with a fault the job
// comes back as it was. Apply tests what a command brings by itself; a job can
// come out of it in which two fields do not go together, and job.Validate says
// so.
type Command interface {
	// Label names the change of a job, for the undo button and the list of
	// versions.
	Label(before job.Job) Label
	Apply(job.Job) (job.Job, []unit.Fault)
}

// Codes of the faults of commands.
const (
	CodeLastSeat = "edit.last-seat"
	CodeInUse    = "edit.goods-in-use"
	CodeTooMany  = "edit.too-many"
	CodeNotCopy  = "edit.same-id"
)

func refuse(j job.Job, f unit.Fault) (job.Job, []unit.Fault) { return j, []unit.Fault{f} }

func gone(j job.Job) (job.Job, []unit.Fault) {
	return refuse(j, unit.Fault{Code: job.CodeNoObject})
}

func tooMany(j job.Job, limit int) (job.Job, []unit.Fault) {
	return refuse(j, unit.Fault{Code: CodeTooMany, Args: []unit.Arg{unit.A("limit", limit)}})
}

// formed gives the edited job unless its form has faults: what a command
// brings as a whole must be written and read back the same.
func formed(before, after job.Job) (job.Job, []unit.Fault) {
	if faults := after.Check(); len(faults) > 0 {
		return before, faults
	}
	return after, nil
}

// free tells whether an ID is well formed and not in use.
func free(j job.Job, id job.ID) bool {
	if !id.Valid() {
		return false
	}
	_, used := j.Get(id, "id")
	return !used
}

// nameOf is the name of a seat, a cloth or a foam, of the job itself, or of
// what an object in one of their lists belongs to.
func nameOf(j job.Job, id job.ID) string {
	if name, ok := j.Get(id, "name"); ok && name != "" {
		return name
	}
	if owner := j.Owner(id); owner != "" {
		name, _ := j.Get(owner, "name")
		return name
	}
	return ""
}

// Many applies commands one after the other as one change; the first fault
// leaves the job as it was.
type Many struct {
	Name     Label
	Commands []Command
}

// Label is the given name.
func (c Many) Label(job.Job) Label { return c.Name }

// Apply applies them in order.
func (c Many) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	for _, one := range c.Commands {
		next, faults := one.Apply(out)
		if len(faults) > 0 {
			return j, faults
		}
		out = next
	}
	return out, nil
}

// moved gives the list with the item at from standing at to.
func moved[T any](list []T, from, to int) []T {
	item := list[from]
	rest := slices.Delete(slices.Clone(list), from, from+1)
	return slices.Insert(rest, max(0, min(to, len(rest))), item)
}

// without gives the list without the items that go.
func without[T any](list []T, goes func(T) bool) []T {
	var out []T
	for _, x := range list {
		if !goes(x) {
			out = append(out, x)
		}
	}
	return out
}

// added gives the list with an item more.
func added[T any](list []T, item T) []T { return append(slices.Clone(list), item) }
