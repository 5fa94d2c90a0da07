package room_test

import (
	"testing"

	"evenbass/model"
	"evenbass/report/reporttest"
	"evenbass/report/room"
	"evenbass/report/room/roomtest"
	"evenbass/report/unit"
)

func TestCheckGolden(t *testing.T) {
	p := reporttest.Project()
	reporttest.Golden(t, "roomcheck-metric.txt", room.Text(room.Report{
		Project: p, Engine: "mode", Why: "the room is a plain box with even walls", Walls: roomtest.Walls(),
		Modes: roomtest.Modes(p.Room.Size), Transition: 188, Warnings: []model.Warning{model.Remark("a doubt")},
	}, unit.Metric))
}
