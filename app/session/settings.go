package session

// Remembered gives a setting of the user's own that is none of a job's, such
// as the paper that was used last; "" when it was never set.
func (s *Session) Remembered(key string) string {
	text, _ := s.o.Store.Setting(key) // a setting that cannot be read counts as not set
	return text
}

// Remember keeps a setting. That it could not be kept is told like any other
// fault of the store.
func (s *Session) Remember(key, value string) { s.report(s.o.Store.SetSetting(key, value)) }
