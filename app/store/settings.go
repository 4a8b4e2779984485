package store

import (
	"unicode/utf8"

	"github.com/boltdb/bolt"

	"slipseat/engine/unit"
)

// Limits on settings.
const (
	maxKey     = 200
	maxSetting = 1 << 20
)

// Setting implements Store. A damaged setting counts as not set: it is no use
// to stop for one.
func (s *file) Setting(key string) (string, error) {
	var text string
	err := s.view(func(tx *bolt.Tx) error {
		raw, err := get(tx.Bucket(inSettings), key)
		if err == nil {
			text = string(raw)
		}
		return nil
	})
	return text, err
}

// SetSetting implements Store.
func (s *file) SetSetting(key, value string) error {
	if key == "" || len(key) > maxKey || len(value) > maxSetting || !utf8.ValidString(key) {
		return unit.Fault{Code: CodeKey, Args: []unit.Arg{unit.A("key", printable([]byte(key)))}}
	}
	// Nothing is written when nothing changes: a commit costs a wait for the
	// disk.
	if old, err := s.Setting(key); err != nil || old == value {
		return err
	}
	return s.update(func(tx *bolt.Tx) error {
		b := tx.Bucket(inSettings)
		if value == "" {
			return b.Delete([]byte(key))
		}
		return put(b, key, []byte(value))
	})
}
