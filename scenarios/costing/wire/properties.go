package wire

import (
	"bytes"
	"encoding/json"
)

// properties are schemas by key, in their order.
type properties struct {
	keys []string
	all  map[string]*schema
}

func (p *properties) add(key string, s *schema) {
	p.keys = append(p.keys, key)
	p.set(key, s)
}

// set replaces what is there, or is about to be.
func (p *properties) set(key string, s *schema) {
	if p.all == nil {
		p.all = map[string]*schema{}
	}
	if s == nil {
		s = &schema{}
	}
	p.all[key] = s
}

// of is the schema of a key, or nil.
func (p *properties) of(key string) *schema { return p.all[key] }

// MarshalJSON writes an object whose keys keep their order.
func (p *properties) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	out.WriteByte('{')
	for i, key := range p.keys {
		if i > 0 {
			out.WriteByte(',')
		}
		for k, v := range []any{key, p.all[key]} {
			text, err := json.Marshal(v)
			if err != nil {
				return nil, err
			}
			if k > 0 {
				out.WriteByte(':')
			}
			out.Write(text)
		}
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}
