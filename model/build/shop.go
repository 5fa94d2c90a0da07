package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
)

// Item is a line of the shopping list: what a plan takes, how much of it is in hand, and
// how much to buy.
type Item struct {
	Sort Sort
	Name Words
	Unit string // of Net, Need, Have and Left: "batts", "m", "m²", "bags", "pieces"

	Net   float64 // that becomes part of the pieces, as cut
	Waste float64 // share that is added for what goes wrong
	Need  float64 // with the waste
	Have  float64
	Left  float64 // when all is built and nothing goes wrong

	Packs  int     // to buy
	Pack   string  // what a pack is: "pack of 8", "roll of 2 m x 25 m"; empty if it is not known
	Weight float64 // of what is bought, kg; 0 if it is not known
	Volume float64 // of what is bought, as it lies in the room, m³; 0 if it is not known

	Price       model.Range // of what is bought; zero if there is nothing to buy
	Unpriced    bool        // something is to be bought and no price was given
	Ask         string      // what to ask the seller for; empty if nothing
	Substitutes []Substitute
}

// Sort is what an item is.
type Sort int

// The sorts of items, in the order of the list.
const (
	BattItem Sort = iota
	FilmItem
	BagItem
	ClothItem
	TimberItem
	BoardItem
	TapeItem
	FixingItem
)

// String returns what an item of the sort is called.
func (s Sort) String() string {
	return [...]string{"wool", "film", "bag", "cloth", "timber", "board", "tape", "fixing"}[s]
}

// Shares that are added for what goes wrong in cutting. Common practice, no source.
const (
	woolWaste     = 0.05
	triangleWaste = 0.10 // where most of the wool is cut to triangles
	timberWaste   = 0.10
	sheetWaste    = 0.15
)

// What to ask the dealer for, by material that can burn. Classes differ from country to country.
const (
	askWool  = "its fire class with the facing it has, and whether the facing may be peeled off"
	askSheet = "a fire class for rooms, in writing; your local code says which"
)

// shop lists what the plan takes.
func (m *maker) shop() {
	m.shopBatts()
	m.shopFilms()
	for _, b := range m.plan.Bags {
		if b.Used == 0 {
			continue
		}
		it := Item{Sort: BagItem, Name: Words{b.Bag.Title()}, Unit: "bags", Net: float64(b.Used), Need: float64(b.Used), Have: float64(b.Bag.Have), Pack: "bag", Ask: askSheet}
		it.buy(1, b.Bag.Price, 0, 0)
		m.list(it)
	}
	for _, c := range m.plan.Cloths {
		m.shopRoll(ClothItem, c, c.Roll.Mass)
	}
	m.shopTimber()
	for _, b := range m.plan.Boards {
		m.listMore(Item{Sort: BoardItem, Name: Words{b.Layer.Text}, Unit: "m²", Net: b.Width * b.Height, Waste: timberWaste, Ask: askSheet})
	}
	if m.plan.Tape > 0 {
		m.list(Item{Sort: TapeItem, Name: Words{"tape that sticks to the film"}, Unit: "m", Net: m.plan.Tape, Waste: sheetWaste, Need: m.plan.Tape * (1 + sheetWaste), Unpriced: true})
	}
	for i := range m.plan.Pieces {
		for _, f := range m.plan.Pieces[i].Fixings {
			m.listMore(Item{Sort: FixingItem, Name: Words{f.Text}, Unit: "pieces", Net: float64(f.Count)})
		}
	}
}

func (m *maker) list(it Item) { m.plan.Items = append(m.plan.Items, it) }

// listMore adds to an item of the same name, of which nothing is in hand.
func (m *maker) listMore(it Item) {
	it.Unpriced = true
	it.Need = it.Net * (1 + it.Waste)
	for i := range m.plan.Items {
		if o := &m.plan.Items[i]; o.Sort == it.Sort && slices.Equal(o.Name, it.Name) {
			o.Net, o.Need = o.Net+it.Net, o.Need+it.Need
			return
		}
	}
	m.list(it)
}

// buy works out packs of so many units from need and stock; price, kg and m³ are those of a
// pack.
func (it *Item) buy(perPack float64, price model.Range, kg, volume float64) {
	if missing := it.Need - it.Have; missing > slack {
		it.Packs = int(math.Ceil(missing/perPack - 1e-9))
	}
	it.Left = it.Have + float64(it.Packs)*perPack - it.Net
	n := float64(it.Packs)
	it.Weight, it.Volume = n*kg, n*volume
	it.Price = model.Range{Min: n * price.Min, Max: n * price.Max}
	it.Unpriced = it.Packs > 0 && !price.Given()
}

func (m *maker) shopBatts() {
	for i, b := range m.plan.Batts {
		sheets := float64(len(b.Nesting.Sheets))
		if sheets == 0 {
			continue
		}
		it := Item{Sort: BattItem, Name: BattTitle(b.Batt), Unit: "batts", Net: sheets, Waste: woolWaste, Have: float64(b.Batt.Have), Pack: "batt", Ask: askWool}
		if mostlyTriangles(b.Shapes) {
			it.Waste = triangleWaste
		}
		it.Need = math.Ceil(sheets*(1+it.Waste) - 1e-9)
		n := float64(b.Batt.Pack())
		if n > 1 {
			it.Pack = fmt.Sprintf("pack of %d", b.Batt.Pack())
		}
		it.buy(n, b.Batt.Price, n*b.Batt.Volume()*m.wools[i].density.Typical, n*b.Batt.Volume())
		it.Substitutes = m.substitutes(i)
		m.list(it)
	}
}

func mostlyTriangles(shapes []Shape) bool {
	var all, triangles float64
	for _, s := range shapes {
		if all += s.Area(); s.Triangle {
			triangles += s.Area()
		}
	}
	return triangles > all/2
}

func (m *maker) shopFilms() {
	for i, f := range m.plan.Films {
		if len(f.Shapes) > 0 {
			m.shopRoll(FilmItem, f, m.filmWeight(i).Typical)
		}
	}
}

// shopRoll lists a sheet by the length of its rolls. kg is its mass per area.
func (m *maker) shopRoll(s Sort, use RollUse, kg float64) {
	if len(use.Shapes) == 0 {
		return
	}
	r := use.Roll
	it := Item{Sort: s, Name: Words{cmp.Or(r.Title(), s.String())}, Unit: "m", Net: use.Unrolling.Length(), Waste: sheetWaste, Ask: askSheet}
	it.Need = it.Net * (1 + sheetWaste)
	if r.Length == 0 {
		it.Name = append(it.Name, ", ", Metres(r.Width), " wide")
		it.Unpriced = true
		m.list(it)
		return
	}
	it.Have = float64(r.Have) * r.Length
	it.Pack = "roll"
	it.buy(r.Length, r.Price, r.Area()*kg, 0)
	if used := len(use.Unrolling.Used) - r.Have; it.Packs < used { // lengths do not run over the end of a roll
		it.Packs = used
		it.Need = max(it.Need, float64(used+r.Have-1)*r.Length)
		it.buy(r.Length, r.Price, r.Area()*kg, 0)
	}
	m.list(it)
}

func (m *maker) shopTimber() {
	t := m.plan.Timber
	if t == nil || len(t.Members) == 0 {
		return
	}
	net := float64(len(t.Sticks))
	for _, i := range t.TooLong {
		net += math.Ceil(t.Members[i].Length / t.Timber.Length)
	}
	it := Item{Sort: TimberItem, Name: Words{cmp.Or(t.Timber.Name, "batten")}, Unit: "battens", Net: net, Waste: timberWaste, Need: math.Ceil(net * (1 + timberWaste)), Have: float64(t.Timber.Have), Pack: "batten"}
	volume := t.Timber.Length * t.Timber.Width * t.Timber.Thickness
	it.buy(1, t.Timber.Price, volume*softwood.Typical, volume)
	m.list(it)
}

// Cost is the price of everything to buy, and the number of items without a price.
func (p *Plan) Cost() (sum model.Range, unpriced int) {
	for _, it := range p.Items {
		sum.Min, sum.Max = sum.Min+it.Price.Min, sum.Max+it.Price.Max
		if it.Unpriced {
			unpriced++
		}
	}
	return sum, unpriced
}

// Bought is the weight in kg and the volume in m³ of everything to buy, as far as
// they are known.
func (p *Plan) Bought() (kg, volume float64) {
	for _, it := range p.Items {
		kg, volume = kg+it.Weight, volume+it.Volume
	}
	return kg, volume
}
