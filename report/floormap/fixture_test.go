package floormap

import (
	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// fixtureMaps is a survey of the fixture's room as it stands, its figures drawn from
// simple curves over the floor: no room is like that.
func fixtureMaps() Report {
	p := reporttest.Project()
	l, _ := p.Now()
	return Report{
		Project: p, Survey: reporttest.Survey(p, l), Engine: model.EngineInfo{Kind: model.ModeEngine}, Why: "the room is a plain box with even walls",
		Warnings: []model.Warning{model.Remark("the walls are taken as typical")},
		Run:      html.Run{Command: "evenbass map 'spare-room.yaml'", Version: "v0.1", File: "spare-room.yaml"},
	}
}
