/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "paper_internal.h"

/* The one table of everything that paper says. The code names a phrase by its English, which stands when nothing else
 * is given. {1}, {2} ... are filled in; where one and several differ there are two phrases. */
const char *const girdle_english[] = {
    /* the language's code for the browser; the decimal mark; numbers, sides, days */
    "en", ".", "{1} gross", "{1} gross and {2}", "{1} min", "{1} h {2} min", "{1} hours", "{1} days", "front", "back",
    "left", "right", "front and back", "elsewhere", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun",
    /* heads */
    "Costume", "size {1}", "needed by {1}", "as the costume lies flat while it is glued",
    "as the costume lies while it is glued, stretched {1}", "{1} % across", "{1} % along", "{1} and {2}",
    "Drawn at true size, {1}.", "Pictures show zones {1}; they are not to size on a screen.",
    /* counts and weight */
    "zone", "side", "stone", "pieces", "in all", "together",
    "About {1} g on the costume, likely between {2} and {3} g until a gross is weighed.", "{1} mm", "{1} in",
    "{1} \303\227 {2} cm", "{1} \303\227 {2} in", "{1}, {2} across", "{1} ({2}), {3} across", "{1} stone", "{1} stones",
    "\303\227 {1}: work it {1} times, {2} stones in all", "{1} {2} set by eye", "{1} left out where no room is",
    /* cost: labels and details of a quote, then what is said of it */
    "Stones", "Shipping", "Adhesive", "Consumables", "Labour", "Checking and sorting", "Overhead", "Margin", "Mark-up",
    "Rush", "Extra stones", "Rounding", "Tax", "{1} stones at {2} a gross", "{1} stones at {2} a stone",
    "{1} at {2} an hour", "{1} % of the price before tax", "{1} % of the cost", "{1} % of the above",
    "{1} stones of the customer's own", "{1} stones added after the deposit", "incomplete: some stones have no price",
    "Price", "Deposit before starting", "Then to pay", "Valid until {1}.",
    "INCOMPLETE: some stones have no price yet, see the order.",
    /* work */
    "{1} evening", "{1} evenings", "{1} tube", "{1} tubes",
    "Adhesive for all together: about {1} ml, {2} when they are used up one after the other.",
    "Gluing: {1} stones in about {2}, {3}.", "Gluing: {1} stones in about {2} (and {3} sewn on), {4}.",
    "Adhesive: about {1} ml under the stones, {2} ml with what stays in the nozzle: {3}.",
    "Dot no more than {1} stones at a time, or the first dots skin over.",
    /* order */
    "{1}, delivers in {2} day", "{1}, delivers in {2} days", "shipping", "to pay there", "The whole order, {1}",
    "This is the cheapest order for these prices.", "At most {1} could still be saved; whether it can was not settled.",
    "needed", "spares", "repair kit", "on hand", "from stock", "bought", "left over", "no supplier offers enough",
    "Nothing is to be ordered.", "INCOMPLETE: no supplier offers enough of {1} kind of stone.",
    "INCOMPLETE: no supplier offers enough of {1} kinds of stone.",
    "Spares: {1} % of each stone is taken to be lost while working: an assumption, until there is a log.",
    "Spares: {1} % of each stone is taken to be lost while working, learned from {2} job of the log beside the rate.",
    "Spares: {1} % of each stone is taken to be lost while working, learned from {2} jobs of the log beside the rate.",
    "Stock of one lot serves whole zones only, since lots can differ in shade.",
    "With them the chance of running short of a stone is at most {1} %; the repair kit holds {2} of each stone a "
    "costume.",
    "Stones are lacking, so there is not enough whatever is lost; the repair kit is to hold {1} of each stone a "
    "costume.",
    "No stone is taken to be lost while working, so one that is lost may be one too few; the repair kit holds {1} of "
    "each "
    "stone a costume.",
    "Lots can differ in shade. Work each zone from the lot or supplier that is said here:", "lot {1}, in stock",
    "in stock, its lot not known", "bought from {1}", "not to be had", "a part, for it is longer than any lot",
    "a part, mixed with another lot",
    "What could stand in, and what that changes (nothing is taken unasked; --json lists all):",
    "{1}: {2} could stand in, {3} pieces ({4}), {5} g, {6} ({8}), from {7}",
    "{1}: {2} could stand in, {3} pieces ({4}), {5} g, {6}, from {7}",
    "What is taken instead goes into substitutes.csv (routine, stone, instead), for all of a routine or for none; "
    "another size is placed anew: girdle compare CLUB stone= instead= says what that changes.",
    /* calendar */
    "to", "all", "order the stones", "delivery", "alterations, before any gluing",
    "swatch on this fabric: look at it under the lights, then peel", "glue", "glue, about {1}",
    "dry right through (cure)", "try on", "days in hand", "Order by {1}, ready on {2}.", "Begin by {1}.",
    "TOO LATE by {1} day as planned.", "TOO LATE by {1} days as planned.",
    "What one change alone would do:", "No one change helps: take a later day.", "more hands: {1} gluing at once",
    "faster post: {1} days of delivery", "longer evenings: {1} minutes each",
    "more places: {1} costumes lying flat at once", "fewer stones: zones left out that are {1} % of the work",
    "larger stones: {1} % larger across, the same areas covered", "it can be met", "still {1} day too late",
    "still {1} days too late",
    /* cautions */
    "Before you begin", "The label and the safety data sheet of your adhesive come before every number here.",
    "Air the room well, wear gloves, keep flames and sparks away.",
    "Never glue on a person; let it dry right through before it is worn.",
    "Small stones are small parts: keep them from children under three.",
    "Mind needles and chipped glass; guard your eyes when you pick a chipped stone off.",
    "Rules of sports and shows change: check the current rulebook. A stone on the ice or floor is a hazard.",
    "All figures are estimates; local rules and qualified people come first.",
    "Glass may hold lead: for what a child wears there are legal limits; ask the supplier for a test report.",
    "Some of these stones may hold lead: for what a child wears there are legal limits; ask for a test report.",
    "Some of these stones are leaded crystal: for what a child wears there are legal limits; take other stones.",
    /* maps and guides */
    "100 mm: lay a ruler here before you trust the print;",
    "100 mm and 4 in: lay a ruler here before you trust the print;",
    "when it differs, print again at 100 % without fitting.",
    "Print at 100 %, without fitting to the page, and lay a ruler on this one first.",
    "Pages of one zone overlap: lay cross on cross, then tape them together.",
    "Mirrored, for working from the back of the fabric.", "MIRRORED, for the back of the fabric", "The pages",
    "{1}, {2} \302\267 page {3} of {4}", "{1} \302\267 page {2} of {3}", "goes on on page {1}",
    "The font lacks {1}: printed as \"?\".", "Guides to cut out and lay on.", "{1}: strip", "{1}: card",
    "in a square of 10 cm:", "on average in a square of 10 cm:", "on average in a square of 4 in:", "drawn here: {1}",
    "in a square of 4 in:", "{1} edge to edge, {2} centre to centre",
    /* tables */
    "How many stones", "size", "across", "gap", "mm", "in", "10 cm", "10 x 10 cm", "1 inch", "1 square inch", "line",
    "honeycomb", "square", "A closed cover, far from its edges; near an edge stones are left out.",
    "A scatter takes far fewer.", "Rings are as large as the stones: print at 100 %, without fitting to the page.",
    /* the maker's sheet */
    "stones", "they weigh", "{1} to {2} g", "adhesive", "{1} ml, {2}", "work", "{1}, {2}", "The stones",
    "Point at a stone, or press it, to see where it goes.", "Lay ready", "{1} \303\227 {2}",
    "{1} \303\227 {2}, and {3} as spares", "Adhesive, with its label and safety data sheet read",
    "Gloves, a wipe, and a window that opens", "Pick-up tool, fine tip or syringe",
    "Card or baking paper between the layers, so that front and back stay apart",
    "Tape measure, chalk or a pen that vanishes", "A sample of the fabric, glued, dried and pulled at", "Zone by zone",
    "One side first. Leave it flat for {1} before you turn it, and let all of it dry right through (cure) for {2} "
    "before "
    "it is worn. Dot no more than {3} stones at a time.",
    "Where the zones are, front and back", "The costume", "Show", "all zones", "{1} of {2} ticked",
    "Take all ticks off", "Take all ticks off?", "done", "gross and odd", "loads of adhesive", "Weight", "where",
    "about", "{1} g", "Job card", "Fill this in when it is done; it makes the next estimate better.", "planned", "had",
    "evenings", "date",
    "had: pieces there before; bought: pieces bought for it; left: pieces over at the end, 0 for none; "
    "evenings: of the whole job, in one row.",
    /* what is weighed and planned */
    "edge to edge {1} as glued, {2} as worn", "{1} stones would touch another, as glued or as worn",
    "{1} stones  {2} g", ", {1} g/m2", ", {1} g/cm", ", one size smaller {1} g", "over the limit",
    "{1} g added, likely between {2} g and {3} g until a gross is weighed", "; {1} % of the plain dress",
    ", which is over the limit", "front {1} g, back {2} g; left {3} g, right {4} g", "; from the straps hang {1} g",
    "The zone to lighten is {1}, the heaviest:", "stones one size smaller would save {1} g;",
    "sewn there they would save the adhesive, about {1} g.", "light", "medium", "full",
    "together {1} of {2} ({3}), about {4} minutes, {5}", ", the order {1}", "{1} stops for want of {2}", "rows",
    "as written", "{1}: leave {2} of the stones out that this gap lays out",
    "Light is the edges alone; medium the edges, and half of what the areas hold; full is all of it.",
    "Light, medium and full are a third, two thirds and all of what there can be.",
    "Front and back each begin on an evening of their own: evenings=2 has room for both.",
    /* bags */
    "Bags", "Grams are estimates: count one gross, weigh it, and trust that scale before these numbers.",
    "Picking list", "tag", "by scale", "lot", "in the bag", "{1}: {2}", "{1}: {2} ({3})", "Bag labels",
    "and {1} as spares", "fill to about {1}", "count them", "not for children under three",
    /* the customer's page */
    "Not complete: some stones have no price yet.", "deposit before starting", "ready by", "this price holds until",
    "Three ways to get there", "reckoned for", "Glue it yourself", "About {1} for a first time, {2}.",
    "Whole packs: {1} stones stay with you, some of them as spares.",
    "The time is yours, and so are the fumes: air the room, read the label.", "Have it made",
    "Stones, adhesive, work and a repair kit. You try it on before it is handed over.", "Hire, or buy one that is done",
    "ask for the price",
    "Often the quickest. Ask for the fee with cleaning and deposit, who pays for lost stones, and whether it fits "
    "without "
    "new seams. For a single show it may well be the best of the three.",
    "To cut out and keep", "Care",
    "The adhesive's label decides how soon and how it may be washed; until then keep it dry.",
    "Hand wash cold, with little soap; do not wring, tumble, iron or bleach.",
    "Dry and store it flat, inside out, with paper between the layers.",
    "A stone has come off? Keep it away from small children, let the place dry, and glue one from the repair kit.",
    "Before a show pull gently at the stones near seams, hems and hooks.", "Repair kit: {1}", "Repair kit: {1}, {2}",
    "{1}, if it is ordered today", "No day can be named: with these evenings it takes more than ten years.",
    "With {1} for first tools: a pick-up tool, fine tips or a syringe, a mat, gloves.",
    "First tools are not in it: a pick-up tool, fine tips or a syringe, a mat, gloves.",
    "Small parts: not for children under three.",
    /* one line, and what a map cannot say */
    "{1} of {2}", "{1} stone of {2}", "{1} stones of {2}", "{1} stones ({2})", "{1} stones ({2}) of {3}",
    "{1} stones ({2}) ({3})", "{1} along a line of {2}, {3} edge to edge", "{1} round a loop of {2}, {3} edge to edge",
    "about {1} over {2}, {3} edge to edge; never more than {4}", ", {1} certainly fit",
    "(as a square; perimeter= tells the true edge)", "both", "{1} edge to edge",
    "{1} left out where a zone of an earlier priority has its stones",
    "{1} of the picture's stones find no room in this size; {2} close up",
    /* rings that something must pass */
    "{1} cm", "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} passes.",
    "{1} stones of {2}: the ring reaches {3} at full stretch, and {4} does not pass.",
    "The plain ring is too tight already: it needs an opening.", "It passes with at most {1} stones",
    ": {1} edge to edge or more", "; or leave {1} of the ring without stones",
    "The fabric under a stone is taken as not stretching. Try it on before you glue.",
    /* what stays alike over sizes */
    "{1}, {2} stones for everyone", "gap to write", "count", "picture", "no gap gives just so many",
    "The smallest gap is {1} ({2}), the largest {3} ({4}).",
    "Write each gap under \"{1} gap\" in club.csv, and \"{1} gap\" for this zone's gap in zones.csv.",
    "no room for {1}", "; {1} closed up", "the smallest gap is {1} ({2}), the largest {3} ({4}).",
    "To hold it when someone joins late, write: count {1}",
    "No zone keeps its count or its picture: write count or picture under `alike` in a zones.csv, or name a zone=.",
    /* two versions */
    "add {1}", "take off {1}", "Nothing changes.", "weight {1} g, {2} minutes, {3} evenings",
    "order by {1}, was {2}; ready on {3}, was {4}", ", the whole order {1}", "; {1} day late", "; {1} days late",
    "to have beside what the old version used:", "nothing",
    "to buy, when the old order was bought already:", "{1} x {2} of {3}, {4}", "{1} with shipping",
    "nothing: what the old order left over is enough",
    /* what the log teaches */
    "There is no log yet: write log.csv (date, tag, zone, stone, planned, used, lost, fell_off, minutes).",
    "Spares for stones lost while working: {1} %, an assumption: nothing was learned yet.",
    "Spares for stones lost while working: {1} %, learned from the log and the rate together.", "{1} job in the log.",
    "{1} jobs in the log.", "For {1} stones {2} spares suffice 19 times in 20; the chance of running short with",
    "{1}: {2} %", "Pieces taken a piece planned, the next job: likely between {1} and {2}, 19 times in 20.",
    "Fell off once worn: {1} %.", "{1}: {2} % fell off; a repair kit for {3} stones there holds {4}.",
    "Pace: {1} s a stone, {2} an hour.", "Seconds a stone, the next job: likely between {1} and {2} s, 19 times in 20.",
    "Unusual: job '{1}' lost {2} %. It still counts; look whether its row is right.",
    "Unusual: job '{1}' used more than three times what was planned. It still counts; look whether its row is right.",
    "Unusual: job '{1}' took {2} s a stone. It still counts; look whether its row is right.",
    "Reckoned with: a small stone {1} s, a large one {2} s. The more jobs the log has, the more it counts against the "
    "rates.",
    "log.csv: {1} row more; stock.csv: {2}", "log.csv: {1} rows more; stock.csv: {2}",
    /* recipes, and what is sound */
    "({1} to {2})", "(at least {1})", "(at most {1})", "must be given", "may be left out", "in a row of zones.csv",
    "{1}: a costume", "{1}: a recipe", "its outlines are in {1}", "takes", "takes nothing", "{1} tag", "{1} tags",
    "{1} costume", "{1} costumes", "{1} supplier", "{1} suppliers", "{1} price", "{1} prices", "{1} zone", "{1} zones",
    "{1} is sound: {2}. Nothing was placed.", "{1} on {2} {3}", "{1} by eye", "left and right", "{1} times",
    "Where {1} and {2} meet is not known, as a tape measure does not say where they lie: stones on that spot are "
    "counted "
    "in both. Leave it out of one, under `leave`, or draw both.",
    "{1} is sound as far as it can be seen without placing anything.",
    /* questions about a dress */
    "Does the fabric stretch? Mark 10 cm of it and pull: how long do they become?",
    "such as 15 cm; nothing when it does not stretch", "How long are those 10 cm while you glue?",
    "10 cm when the dress lies flat, more on a board inside it, such as 11 cm", "And when the dress is worn?",
    "such as 12 cm: so much wider are the gaps then", "How richly is it to be stoned?",
    "light: one row along the edges, stones well apart, areas only sprinkled; medium: one close row, areas scattered; "
    "full: two rows, areas covered",
    "Which stone?", "a size and a colour, such as ss20 black", "And a second stone, in turn with the first?",
    "such as ss16 clear; nothing for one kind",
    "How far apart along an edge, from the rim of one stone to the rim of the next?",
    "such as 2 mm as you glue it, or 2 mm worn as it is then seen", "such as 2 mm", "the neckline", "one armhole",
    "the waist", "one wrist, over the sleeve", "one leg opening", "one strap", "the hem of the skirt", "the head",
    "the hips", "the hand, thumb laid in", "the heel and instep", "Where is {1} stoned?", "front, back or both",
    "front, back or both; both is one area round the body, half of it on each side",
    "How far is it round {1}, which must pass through there?", "such as {1}; nothing where the ring opens",
    "Does a stretch of it stay plain, such as a zip?",
    "from where the tape begins, such as 18 cm to 22 cm; nothing when none does", "How far is it round {1}?",
    "How long is {1}?",
    "the tape where the stones go, as the dress lies while you glue: such as {1}; nothing leaves it plain",
    "Which edges get stones?",
    "one or more of neckline, armhole, waist, wrist, leg opening, strap and hem, such as neckline, wrist; nothing when "
    "none does",
    "the area on the front", "the area on the back", "the area on one sleeve", "the area on the skirt",
    "What shape has {1}?", "oval, rectangle or triangle", "How wide is it?", "such as 16 cm; nothing leaves it plain",
    "And how deep, from top to bottom?", "such as 12 cm", "Which areas get stones?",
    "one or more of front, back, sleeve and skirt, such as front; nothing when none does",
    "How far apart do stones stand in an area?", "sprinkled: such as 25 mm", "scattered: such as 12 mm",
    "closed: such as 0.3 mm", "Are there stones you set by eye, that are only to be counted?",
    "such as 40 ss16 clear; 1 gross ss20 black. Nothing when there are none",
    "{1}, which {2} must pass:", "{1}/zones.csv holds the costume: change it in any spreadsheet. Then",
    "counts it again", "fits it to a number, to money or to what you have", "gives a sheet to work from"};
const uint64_t girdle_english_count = sizeof girdle_english / sizeof girdle_english[0];

const char *const *girdle_paper_phrases(uint64_t *count) {
  *count = girdle_english_count;
  return girdle_english;
}
