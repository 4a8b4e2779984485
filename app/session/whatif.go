package session

import (
	"context"

	"slipseat/app/task"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
)

// askEvaluations is how long the search looks for each lay of a question: a
// quarter of what a job's own lay gets outside the window. The first lay is
// within a few per cent on everyday jobs, so the comparison holds.
const askEvaluations = DefaultEvaluations / 4

// askState is what the session keeps of questions: lays by problem for as long
// as it lives, answers until the job changes.
type askState struct {
	run       task.Runner
	lays      map[lay.ProblemID]lay.Lay
	asks      []plan.Ask
	answers   []plan.Answer
	proposals []plan.Proposal
	proposed  bool
	busy      bool
}

// Ask looks for the answers to questions about the job on screen in the
// background, instead of those asked before. News comes as TopicAnswers.
func (s *Session) Ask(asks ...plan.Ask) {
	s.asked.asks = asks
	s.answer()
}

// Answers are those found so far, in the order of the questions; one without an
// answer yet is pending.
func (s *Session) Answers() []plan.Answer { return s.asked.answers }

// Answering tells whether some answer is still being looked for.
func (s *Session) Answering() bool { return s.asked.busy }

// StopAsking ends the search; answers that are there stay.
func (s *Session) StopAsking() {
	if s.asked.run != nil {
		s.asked.run.Cancel()
	}
	s.asked.busy = false
}

// Proposals are the glue-ups that would save sheets, the dearest saving first,
// and whether the search for them has ended; Propose starts it.
func (s *Session) Proposals() ([]plan.Proposal, bool) { return s.asked.proposals, s.asked.proposed }

// Propose looks for glue-ups in the background. News comes as TopicAnswers.
func (s *Session) Propose() {
	if s.plan == nil || !s.open {
		return
	}
	p := s.plan
	s.asked.proposals, s.asked.proposed, s.asked.busy = nil, false, true
	s.askRunner().Start(s.history.Rev(), func(ctx context.Context, report func(func())) func(bool) {
		found := p.Proposals(func(q lay.Problem) (lay.Lay, []lay.Place) {
			if ctx.Err() != nil {
				return lay.Lay{}, everyPiece(q)
			}
			l, missing, faults := search.Some(q)
			if len(faults) > 0 {
				return lay.Lay{}, everyPiece(q)
			}
			return l, missing
		})
		return func(late bool) {
			if late {
				return
			}
			s.asked.proposals, s.asked.proposed, s.asked.busy = found, true, false
			// Taken over, a proposal is cut as was promised.
			for _, q := range found {
				if _, had := s.lays[q.Problem.ID()]; !had {
					s.lays[q.Problem.ID()] = q.Lay
				}
			}
			s.tell(TopicAnswers)
		}
	})
}

func everyPiece(p lay.Problem) []lay.Place {
	var out []lay.Place
	for i, k := range p.Kinds {
		for c := range k.Count {
			out = append(out, lay.Place{Kind: i, Copy: c})
		}
	}
	return out
}

func (s *Session) askRunner() task.Runner {
	if s.asked.run == nil {
		s.asked.run = task.New(task.Options{Post: s.o.Runner.Post, Clock: clock{s.o.Runner}, Start: s.o.Runner.Start, Crashed: func(_ uint64, c *task.Crash) {
			s.asked.busy = false
			s.report(c)
			s.tell(TopicAnswers)
		}})
	}
	return s.asked.run
}

// forget drops answers to questions about a job that has changed; lays stay,
// for they answer problems and not jobs.
func (s *Session) forget() {
	s.StopAsking()
	s.asked.proposals, s.asked.proposed = nil, false
	if len(s.asked.asks) > 0 {
		s.answer()
	}
}

// askNothing is for a job that is closed or opened.
func (s *Session) askNothing() {
	s.StopAsking()
	s.asked.asks, s.asked.answers, s.asked.proposals, s.asked.proposed = nil, nil, nil, false
}

// answer works through the questions.
func (s *Session) answer() {
	if s.plan == nil || !s.open {
		return
	}
	asks, is := s.asked.asks, s.plan
	s.asked.answers = make([]plan.Answer, len(asks))
	for i, a := range asks {
		s.asked.answers[i] = plan.Answer{Ask: a, Pending: true}
	}
	if len(asks) == 0 {
		s.StopAsking()
		return
	}
	known := map[lay.ProblemID]lay.Lay{}
	for _, from := range []map[lay.ProblemID]lay.Lay{s.asked.lays, s.lays} {
		for id, l := range from {
			known[id] = l
		}
	}
	s.asked.busy = true
	answers := append([]plan.Answer(nil), s.asked.answers...)
	s.askRunner().Start(s.history.Rev(), func(ctx context.Context, report func(func())) func(bool) {
		fresh := map[lay.ProblemID]lay.Lay{}
		solve := func(p lay.Problem) (lay.Lay, bool) {
			id := p.ID()
			if l, ok := known[id]; ok {
				return l, len(l.Places) > 0
			}
			l, faults := search.First(p)
			if len(faults) == 0 && ctx.Err() == nil {
				l = search.Improve(ctx, p, l, search.Options{Seed: 1, Workers: 1, Evaluations: askEvaluations})
			}
			if len(faults) > 0 || len(lay.Check(p, l)) > 0 {
				l = lay.Lay{}
			}
			if ctx.Err() == nil {
				known[id], fresh[id] = l, l
			}
			return l, len(l.Places) > 0
		}
		for i, a := range asks {
			if ctx.Err() != nil {
				break
			}
			answers[i] = answerTo(is, a, solve)
			sofar := append([]plan.Answer(nil), answers...)
			report(func() {
				s.asked.answers = sofar
				s.tell(TopicAnswers)
			})
		}
		return func(late bool) {
			if s.asked.lays == nil {
				s.asked.lays = map[lay.ProblemID]lay.Lay{}
			}
			for id, l := range fresh {
				s.asked.lays[id] = l
			}
			if !late {
				s.asked.answers, s.asked.busy = answers, false
				s.tell(TopicAnswers)
			}
		}
	})
}

// answerTo answers one question with the lays that solve finds.
func answerTo(is *plan.Plan, a plan.Ask, solve plan.Solve) plan.Answer {
	if a.Kind == plan.AskHowMany {
		return plan.Answer{Ask: a, Seats: is.In.HowMany(a.Seat, a.Goods, a.Length, solve)}
	}
	lays := map[lay.ProblemID]lay.Lay{}
	get := func(id lay.ProblemID) (lay.Lay, bool) { l, ok := lays[id]; return l, ok }
	p := plan.Make(is.In.With(a), is, get)
	for _, q := range p.Wanted() {
		lays[q.ID()], _ = solve(q)
	}
	return plan.Make(is.In.With(a), p, get).Answered(a, is)
}
