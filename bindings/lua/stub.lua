---@meta girdle
-- Made from the table of words by manual.lua; the words as recipe files see them, and as
-- the module has them.

---@class girdle.shape
---@operator add(girdle.shape): girdle.shape
local shape = {}

---Length along the path, or all round.
---@return number
function shape:length() end

---Area inside.
---@return number
function shape:area() end

---All edges together.
---@return number
function shape:perimeter() end

---The box around it, in mm.
---@return number, number, number, number
function shape:box() end

---The point at a distance along it.
---@param distance number|string along the path from its start
---@return number, number, number
function shape:at(distance) end

---How much it bends at a distance along it, one over the radius: positive clockwise, nil at a cusp.
---@param distance number|string along the path from its start
---@return number?
function shape:curvature(distance) end

---Whether each of its lines comes back to its start.
---@return boolean
function shape:closed() end

---How many lines it is made of; of a region, rings.
---@return integer
function shape:subpaths() end

---How many holes and areas left out it has.
---@return integer
function shape:holes() end

---The rim of a region as a path, holes and areas left out included; a path is its own.
---@return girdle.shape
function shape:rim() end

---The hem of a skirt, the wrist of a cuff: the edge from corner to corner whose middle lies lowest, walked with the fabric on the right; with less than two corners the whole ring.
---@return girdle.shape
function shape:lower_edge() end

---Whether a place lies inside.
---@param x number|string to the right
---@param y number|string down
---@return boolean
function shape:contains(x, y) end

---The nearest place on the path: how far along it, and how far away.
---@param x number|string to the right
---@param y number|string down
---@return number, number
function shape:nearest(x, y) end

---How far along the path its corners lie, and by how much each turns, positive clockwise; at most 10000 of them.
---@param least? number|string what turns more is a corner
---@return number[], number[]
function shape:corners(least) end

---The parallel at a distance.
---@param distance number|string to the right of the walker; negative to the left
---@return girdle.shape
function shape:offset(distance) end

---The line set in from its edge, as set_in does in a run; its length follows.
---@param distance number|string inside a closed path, to the right of an open one; negative to the left of the walker
---@return girdle.shape
function shape:set_in(distance) end

---The shape shrunk, or grown, by a distance.
---@param distance number|string how far in from the edge; negative outwards
---@return girdle.shape
function shape:inset(distance) end

---Mirrored about an upright line.
---@param x? number|string where the upright mirror line stands
---@return girdle.shape
function shape:mirrored(x) end

---Moved.
---@param dx number|string to the right
---@param dy number|string down
---@return girdle.shape
function shape:moved(dx, dy) end

---Turned clockwise about the origin.
---@param turn number|string clockwise about the origin
---@return girdle.shape
function shape:turned(turn) end

---Changed by SVG's matrix(a b c d e f): slanted, scaled, turned. Curves stay curves.
---@param a number|string of x, in x' = a x + c y + e
---@param b number|string of x, in y' = b x + d y + f
---@param c number|string of y, in x'
---@param d number|string of y, in y'
---@param e? number|string to the right
---@param f? number|string down
---@return girdle.shape
function shape:transformed(a, b, c, d, e, f) end

---@class girdle.fitted_fields
---@field length? number|string along the path, or all round
---@field width? number|string width of its box
---@field height? number|string height of its box

---Scaled to a length, its start staying, or to a width, a height or both, its upper left corner staying.
---@param fields girdle.fitted_fields
---@return girdle.shape
function shape:fitted(fields) end

---@class girdle.stretched_fields
---@field across? number|string how much wider
---@field along? number|string how much higher
---@field from? table how it lies before, for the way back

---Stretched across and along, as fabric is; with from, as fabric that lay so lies now.
---@param fields girdle.stretched_fields
---@return girdle.shape
function shape:stretched(fields) end

---Walked the other way.
---@return girdle.shape
function shape:reversed() end

---Both one after the other, as with +: one line where the second begins at the first one's end.
---@param other girdle.shape|string the path that follows; of a region, its rim
---@return girdle.shape
function shape:joined(other) end

---A part of the path.
---@param from number|string where it begins, along the path
---@param to number|string where it ends
---@return girdle.shape
function shape:part(from, to) end

---The region without another one.
---@param region girdle.shape|string what is left out
---@return girdle.shape
function shape:without(region) end

---Cut in two at a distance along it.
---@param distance number|string along the path from its start
---@return girdle.shape, girdle.shape
function shape:split(distance) end

---The path in straight lines.
---@param tolerance? number|string no point lies farther from the lines
---@return girdle.shape
function shape:flattened(tolerance) end

---Where it meets another path, or itself; at most 10000 places.
---@param other? girdle.shape|string the other path
---@return table[]
function shape:meetings(other) end

---The middle of its area.
---@return number, number
function shape:centre() end

---How far a place lies from the edge: positive inside, negative outside.
---@param x number|string to the right
---@param y number|string down
---@return number
function shape:depth(x, y) end

---SVG path data that reads back equal.
---@return string
function shape:data() end

---@class girdle.placement
---@operator add(girdle.placement): girdle.placement
local placement = {}

---Walks over the stones, in order.
---@return fun(): number, number, number, girdle.stone, integer
function placement:each() end

---How many of which stone.
---@return { stone: girdle.stone, count: integer }[]
function placement:counts() end

---What the verb did and could not do: left_out, gap_mm, leftover_mm, uneven, maximal, surplus, undecided_mm2, bound_least, bound_most, seed.
---@return table
function placement:notes() end

---Mirrored about an upright line; twice is the same again.
---@param x? number|string where the upright mirror line stands
---@return girdle.placement
function placement:mirrored(x) end

---Both halves about an upright line.
---@param x? number|string where the upright fold stands
---@param options? table snap: how near a stone moves onto the fold
---@return girdle.placement
function placement:folded(x, options) end

---Moved.
---@param dx number|string to the right
---@param dy number|string down
---@return girdle.placement
function placement:moved(dx, dy) end

---Turned clockwise about the origin.
---@param turn number|string clockwise about the origin
---@return girdle.placement
function placement:turned(turn) end

---Without the stones that touch a region.
---@param region girdle.shape|string what is left out
---@return girdle.placement
function placement:without(region) end

---Without the stones that come too near to another placement's.
---@param other girdle.placement what was there earlier
---@param gap? number|string clear fabric between the two
---@return girdle.placement
function placement:clear_of(other, gap) end

---The pairs of stones that overlap; the list has the first 1000.
---@return integer, table[]
function placement:overlaps() end

---@class girdle.stream
local stream = {}

---A number between two; without them between 0 and 1.
---@param from? number|string the least
---@param to? number|string the most, never reached
---@return number
function stream:number(from, to) end

---A whole number between two, both included.
---@param from integer|string the least
---@param to integer|string the most
---@return integer
function stream:integer(from, to) end

---One value of a list.
---@param list table not empty
---@return any
function stream:pick(list) end

---@class girdle.catalogue
local catalogue = {}

---A stone as the word stone makes it, from the catalogue's rows and the tables.
---@param stone any a text, or the fields of the word stone
---@return girdle.stone
function catalogue:stone(stone) end

---As the word likely_sizes, the catalogue's sizes among them.
---@param diameter number|string as measured across the girdle
---@param error? number|string of the caliper
---@return table[]
function catalogue:likely_sizes(diameter, error) end

---A stone's solid, its cut looked for in the catalogue first.
---@param stone girdle.stone|string the stone, its cut one of the catalogue's or of the tables'
---@return table
function catalogue:solid(stone) end

---@class girdle.stone
---@field size string
---@field colour string
---@field finish string
---@field material string
---@field cut string
---@field fix string
---@field outline string
---@field length_ratio number
---@field diameter_mm number
---@field diameter_least_mm number
---@field diameter_most_mm number
---@field height_mm number
---@field mass_mg number
---@field mass_least_mg number
---@field mass_most_mg number
---@field caution string
---@field mass_from 'weighing'|'model'|'at least'
---@field footprint_mm2 number
---@field circle_mm number
local stone_methods = {}

---@class girdle.weighed_fields
---@field pieces integer|string how many were weighed together
---@field mass number|string of them all
---@field error? number|string of the scales

---The stone with the mass that weighing gave, and by what share its mass was off before.
---@param fields girdle.weighed_fields
---@return girdle.stone, number
function stone_methods:weighed(fields) end

---The stone as a polyhedron: its measures, its corners and its facets.
---@return table
function stone_methods:solid() end

---How far the stone reaches from its middle in a direction.
---@param towards number|string the direction
---@param turn? number|string of the stone
---@return number
function stone_methods:reach(towards, turn) end


---@class girdle.recipe
---@field name string
---@field about string

---@class girdle.costume

---@class girdle.zone

---@class girdle.stone_fields
---@field size? string a size, or a diameter such as "5 mm"
---@field colour? string in any words
---@field finish? string foiled, coated, plain or matt
---@field material? string which its mass follows from
---@field cut? string which its height and mass follow from
---@field fix? "glue"|"sew"|"both" how it is held
---@field outline? "round"|"oval"|"pear"|"navette"|"square"|"rectangle"|"heart" seen from above
---@field length_ratio? number|string length over width
---@field diameter_mm? number|string width across
---@field diameter_least_mm? number|string the narrowest of a lot
---@field diameter_most_mm? number|string the widest of a lot
---@field height_mm? number|string from the back to the table
---@field mass_mg? number|string of one stone, by weighing
---@field mass_least_mg? number|string the lightest of a lot
---@field mass_most_mg? number|string the heaviest of a lot

---A stone, from a text such as "ss20 black" or from its fields. All of them can be read, s.size, s.diameter_mm, and s.caution (on lead), s.footprint_mm2, s.circle_mm, and s.mass_from: "weighing", "model", or "at least" where the law gives a least density alone and the mass is a lower bound.
---@param fields girdle.stone_fields|string
---@return girdle.stone
function stone(fields) end

---A path from SVG path data, in millimetres.
---@param data string SVG path data in millimetres, or "38 cm", "loop 34 cm", "oval 8 cm x 6 cm"
---@return girdle.shape
function path(data) end

---A straight line from left to right.
---@param length number|string how long it is
---@return girdle.shape
function line(length) end

---A circle of a girth (a neckline, a wrist), from its top, clockwise.
---@param girth number|string how long once round
---@return girdle.shape
function loop(girth) end

---The region inside a closed outline.
---@param outline girdle.shape|string a closed path, or its data
---@param options? table rule: which points are inside
---@return girdle.shape
function region(outline, options) end

---A rectangle.
---@param width number|string from left to right
---@param height number|string from top to bottom
---@return girdle.shape
function rectangle(width, height) end

---An oval (an ellipse).
---@param width number|string from left to right
---@param height number|string from top to bottom
---@return girdle.shape
function oval(width, height) end

---A trapezoid with equal sides.
---@param top number|string width at the top
---@param bottom number|string width at the bottom
---@param height number|string from top to bottom
---@return girdle.shape
function trapezoid(top, bottom, height) end

---A straight strip along an edge.
---@param length number|string along the edge
---@param depth number|string away from the edge
---@return girdle.shape
function strip(length, depth) end

---A triangle, its tip in the middle.
---@param width number|string from left to right
---@param height number|string from top to bottom
---@return girdle.shape
function triangle(width, height) end

---A teardrop, its tip above.
---@param width number|string from left to right
---@param height number|string from top to bottom
---@return girdle.shape
function teardrop(width, height) end

---A round opening with a slit above it.
---@param width number|string across the round part
---@param height number|string down the whole opening
---@param slit number|string across the slit
---@return girdle.shape
function keyhole(width, height, slit) end

---A ring-shaped piece, its narrow edge above.
---@param inner number|string along the narrow edge, above
---@param outer number|string along the wide edge, below
---@param depth number|string from edge to edge
---@return girdle.shape
function yoke(inner, outer, depth) end

---@class girdle.sleeve_fields
---@field wrist number|string round the wrist edge
---@field top number|string round the top
---@field length number|string down along the arm

---A sleeve laid flat: its wrist and top edges are arcs of the lengths given.
---@param fields girdle.sleeve_fields
---@return girdle.shape
function sleeve(fields) end

---@class girdle.skirt_fields
---@field waist number|string along the waist edge
---@field length number|string down to the hem
---@field fullness? number|string share of a whole circle: 1 circle skirt, 0.5 half

---A skirt cut from a share of a circle.
---@param fields girdle.skirt_fields
---@return girdle.shape
function skirt(fields) end

---@class girdle.panel_fields
---@field every number|string from width to width, down the middle
---@field widths table from the top, 0.001 to 10000000 mm each; the first and the last may be 0

---A panel given by its width every so far down its middle.
---@param fields girdle.panel_fields
---@return girdle.shape
function panel(fields) end

---A square of an area: only its area is meant.
---@param area number|string as counted on squared paper
---@return girdle.shape
function area(area) end

---@class girdle.run_fields
---@field along girdle.shape|string the path; of a region, its rim
---@field stones string|girdle.stone|(girdle.stone|string)[] the sequence, repeated
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string exactly so many stones; the gap is then the least allowed
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field whole? boolean only whole sequences
---@field ends? "centre"|"inside" of an open path: a stone's centre on each end, or stones wholly inside
---@field corners? number|string a corner that turns more bears a stone
---@field turn? number|string of stones that are not round: along the path, or a fixed angle
---@field leave? table[]|string stretches of the path without stones; on a loop { "32 cm", "2 cm" } runs across the start
---@field set_in? number|string sets the line off its edge: inside a closed path, to the right of an open one; negative to the left of the walker

---One line of stones along a path. Each leg between two corners has one gap, as near to the wished one as it can be.
---@param fields girdle.run_fields
---@return girdle.placement
function run(fields) end

---@class girdle.band_fields
---@field along girdle.shape|string the path; of a region, its rim
---@field rows table[] the sequence of each row
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string exactly so many stones; the gap is then the least allowed
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field row_gap? number|string clear fabric between two rows
---@field stagger? boolean every other row is shifted by half a pitch
---@field side? "left"|"right"|"both" where the rows after the first lie, as one walks
---@field ends? "centre"|"inside" of an open path: a stone's centre on each end, or stones wholly inside
---@field corners? number|string a corner that turns more bears a stone
---@field turn? number|string of stones that are not round: along the path, or a fixed angle
---@field leave? table[]|string stretches of the path without stones; on a loop { "32 cm", "2 cm" } runs across the start
---@field set_in? number|string sets the line off its edge: inside a closed path, to the right of an open one; negative to the left of the walker

---Rows side by side along a path, each with its own sequence.
---@param fields girdle.band_fields
---@return girdle.placement
function band(fields) end

---@class girdle.cover_fields
---@field within girdle.shape|string the region, or a closed path
---@field stones string|girdle.stone|(girdle.stone|string)[] stones of one diameter; several alternate along the row
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string exactly so many stones; the gap is then the least allowed
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field margin? number|string clear fabric between a stone and the region's edge
---@field setting? "honeycomb"|"square"|"edge" rows staggered, in a grid, or along the edge
---@field turn? number|string of the rows

---Closed cover of a region with stones of one diameter, every stone wholly inside.
---@param fields girdle.cover_fields
---@return girdle.placement
function cover(fields) end

---@class girdle.scatter_fields
---@field within girdle.shape|string the region, or a closed path
---@field stones string|girdle.stone|table[] stones, or pairs of a stone and its weight
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string exactly so many stones; the gap is then the least allowed
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field margin? number|string clear fabric between a stone and the region's edge
---@field around? girdle.placement what is already there and keeps its place
---@field fill_up? boolean until no stone fits any more, giving up the weights
---@field dense? boolean one size set beside each other, three in ten more of them
---@field seed? integer|string another number or text gives another spread

---An even, irregular spread of one size or of mixed stones.
---@param fields girdle.scatter_fields
---@return girdle.placement
function scatter(fields) end

---@class girdle.grade_fields
---@field within girdle.shape|string the region, or a closed path
---@field stones string|girdle.stone|(girdle.stone|string)[] from the largest, at the edge, to the smallest
---@field gap? number|string clear fabric between two stones, edge to edge
---@field edge girdle.shape|string where the large stones lie
---@field depth number|string how far the grading reaches from the edge
---@field margin? number|string clear fabric between a stone and the region's edge
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field seed? integer|string another number or text gives another spread

---Large or dense at an edge, small or sparse away from it.
---@param fields girdle.grade_fields
---@return girdle.placement
function grade(fields) end

---@class girdle.fade_fields
---@field within girdle.shape|string the region, or a closed path
---@field stones string|girdle.stone|(girdle.stone|string)[] in the order of the ramp
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string exactly so many stones; the gap is then the least allowed
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field margin? number|string clear fabric between a stone and the region's edge
---@field from number[]|string where the first stone stands alone
---@field to number[]|string where the last stone stands alone
---@field seed? integer|string another number or text gives another spread

---Colour or size shifting across an area, from one place to another.
---@param fields girdle.fade_fields
---@return girdle.placement
function fade(fields) end

---@class girdle.between_fields
---@field within girdle.shape|string the region, or a closed path
---@field stones string|girdle.stone|(girdle.stone|string)[] each gap takes the largest that it holds
---@field gap? number|string clear fabric between two stones, edge to edge
---@field count? integer|string at most so many, the widest gaps first
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field margin? number|string clear fabric between a stone and the region's edge
---@field around girdle.placement what is there already; it is not part of the result

---Smaller stones in the gaps of what is there.
---@param fields girdle.between_fields
---@return girdle.placement
function between(fields) end

---@class girdle.motif_fields
---@field placement girdle.placement the group that is repeated
---@field along? girdle.shape|string upright across a path, closed evenly
---@field at? table[] the middle of each copy's box, its turn, and how much its distances grow
---@field gap? number|string between copies, edge to edge along the path
---@field count? integer|string copies along the path
---@field clear_of? girdle.placement stones already there: what would come nearer than the gap is left out
---@field collide? boolean copies may come nearer than the gap to each other

---A placed group repeated along a path or at places; stones keep their size.
---@param fields girdle.motif_fields
---@return girdle.placement
function motif(fields) end

---@class girdle.set_fields
---@field stones string|girdle.stone|(girdle.stone|string)[] the sequence, repeated
---@field at table[] the middle of each stone, and its turn

---Stones at places given one by one; nothing is moved apart.
---@param fields girdle.set_fields
---@return girdle.placement
function set(fields) end

---@class girdle.count_along_fields
---@field length number|string of the line or loop
---@field stones string|girdle.stone|(girdle.stone|string)[] the sequence, repeated
---@field gap? number|string clear fabric between two stones, edge to edge
---@field closed? boolean a loop

---How many stones run counts along a line or loop of a length, and the gap they then have.
---@param fields girdle.count_along_fields
---@return integer, number
function count_along(fields) end

---@class girdle.count_over_fields
---@field area number|string of the region
---@field perimeter number|string all its edges together
---@field holes? integer|string how many holes it has
---@field stone girdle.stone|string of one size
---@field gap? number|string clear fabric between two stones, edge to edge
---@field setting? "honeycomb"|"square" rows staggered, or in a grid
---@field convex? boolean without holes or dents: its bound is nearer

---How many stones to expect over an area, with proved bounds.
---@param fields girdle.count_over_fields
---@return integer, integer, integer
function count_over(fields) end

---The table of sizes, and how well each is known.
---@return table[]
function sizes() end

---The sizes that a measured diameter fits, most likely first. Measure several stones. When none fits, the nearest: fits is then false, and outside_mm says by how much the measure lies outside the size's range.
---@param diameter number|string as measured across the girdle
---@param error? number|string of the caliper
---@return table[]
function likely_sizes(diameter, error) end

---The ready cuts, the house cut first, with their ratios and where these come from.
---@return table[]
function cuts() end

---The materials with their densities, cautions and sources.
---@return table[]
function materials() end

---The shapes from a tape measure: what is measured, and where the tape goes. Measure the dress along its own edge first, the body second.
---@return table[]
function tapes() end

---The names of body measures, where the tape goes, and limits outside which one is worth a second look.
---@return table[]
function body_measures() end

---Whether a body measure lies within the limits of its kind; outside it is worth a second look, no more.
---@param measure string its name: everyday, or a girth of ISO 8559
---@param length number|string as measured
---@return boolean, string, number, number, string
function plausible(measure, length) end

---@class girdle.catalogue_fields
---@field sizes? table a row for each, named as sizes() names them: name, diameter_least_mm, diameter_nominal_mm, diameter_most_mm, certainty
---@field cuts? table a row for each, named as cuts() names them: name, facets, turned, the ratios of the table, the height and the girdle to the diameter, source
---@field materials? table a row for each: name, density_least_g_cm3, density_nominal_g_cm3, density_most_g_cm3, minimum, lead, source
---@field weighed? table a row for each weighing: stone, pieces, mass, error; the mass goes to all of the same size, cut, material and outline

---Sizes, cuts and materials of one's own, and stones that were weighed. Its rows come before those of the tables.
---@param fields girdle.catalogue_fields
---@return girdle.catalogue
function catalogue(fields) end

---@class girdle.gap_as_fields
---@field gap number|string clear fabric between two stones
---@field angle? number|string from stone to stone, while it lies as `from`
---@field from? table how the fabric lies where the gap is meant
---@field to? table how it lies where the gap is wanted

---What a gap becomes when the fabric lies another way: fabric under a stone does not stretch, the gap alone does.
---@param fields girdle.gap_as_fields
---@return number, number
function gap_as(fields) end

---A stream of chance that is the same on every run.
---@param seed? integer|string another number or text gives another spread
---@return girdle.stream
function stream(seed) end

---@class girdle.recipe_fields
---@field format integer|string of the file
---@field name string the file's name, with spaces for _
---@field about? string one line of help
---@field takes? table the parameters, in order
---@field place function gets the parameters, gives a placement

---What a recipe file returns. It can be called with a table of its parameters.
---@param fields girdle.recipe_fields
---@return girdle.recipe
function recipe(fields) end

---@class girdle.costume_fields
---@field format integer|string of the file
---@field name string the file's name, with spaces for _
---@field about? string one line of help
---@field measures? table what holds for a wearer without a measure of her own
---@field outlines? string the drawing beside the file
---@field fabric? table mass, lies and worn
---@field zones function gets measures in mm and outlines, gives a list of zones

---What a costume file returns.
---@param fields girdle.costume_fields
---@return girdle.costume
function costume(fields) end

---@class girdle.zone_fields
---@field [1] string its name
---@field side? "front"|"back"|"left"|"right"|"both" of the costume
---@field recipe? string its name
---@field given? table the recipe's parameters
---@field placement? girdle.placement stones placed already, in place of a recipe
---@field pair? boolean worked left and, mirrored, right
---@field times? integer|string identical pieces, drawn once and counted so often
---@field priority? integer|string 1 comes first: it keeps its stones where ranked zones of a side meet on a drawing, and is filled first in a plan
---@field already? table stones set by eye: pairs of a stone and a number
---@field alike? "gap"|"picture" what stays over the sizes of a routine: the gap, or the picture that its first wearer has, carried to each size, where stones close up and what finds no room is left out and named

---A part of a costume.
---@param fields girdle.zone_fields
---@return girdle.zone
function zone(fields) end

---Runs a recipe by its name: from the costume's folder or the house recipes; from an own script's recipe file, from the folder of that file.
---@param recipe string its name
---@param given? table the recipe's parameters
---@return girdle.placement
function use(recipe, given) end

---@class girdle
---@field version string
---@field stone function
---@field path function
---@field line function
---@field loop function
---@field region function
---@field rectangle function
---@field oval function
---@field trapezoid function
---@field strip function
---@field triangle function
---@field teardrop function
---@field keyhole function
---@field yoke function
---@field sleeve function
---@field skirt function
---@field panel function
---@field area function
---@field run function
---@field band function
---@field cover function
---@field scatter function
---@field grade function
---@field fade function
---@field between function
---@field motif function
---@field set function
---@field count_along function
---@field count_over function
---@field sizes function
---@field likely_sizes function
---@field cuts function
---@field materials function
---@field tapes function
---@field body_measures function
---@field plausible function
---@field catalogue function
---@field gap_as function
---@field stream function
---@field recipe function
---@field costume function
---@field zone function
---@field use function
---@field reckon function
---@field use function
---@field api function
local girdle = {}
return girdle
