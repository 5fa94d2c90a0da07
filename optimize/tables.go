package optimize

import (
	"reflect"
	"sync"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/table"
)

// Tables keeps the fields that searches have tabulated. A search of the same engine under other rules mostly
// asks for the same places, and need not ask the engine again. The zero value is empty, nil keeps
// nothing. It is safe for use by several goroutines.
type Tables struct {
	mutex sync.Mutex
	list  []keptTable
}

// keptTable is a table with what it was made for.
type keptTable struct {
	domain table.Domain
	goal   model.Goal
	table  *table.Engine
}

// find returns the table of an engine for a domain, as if it had just been filled, or nil.
func (k *Tables) find(b *score.Band, d table.Domain, goal model.Goal) *table.Engine {
	if k == nil {
		return nil
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	for _, one := range k.list {
		if one.table.Band.Engine == b.Engine && reflect.DeepEqual(one.goal, goal) && reflect.DeepEqual(one.domain, d) {
			return one.table.Unread()
		}
	}
	return nil
}

// keep remembers a table, without what will be read off it.
func (k *Tables) keep(d table.Domain, goal model.Goal, t *table.Engine) {
	if k == nil {
		return
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	k.list = append(k.list, keptTable{d, goal, t.Unread()})
}
