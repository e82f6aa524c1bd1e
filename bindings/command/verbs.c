/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "command.h"

/* The commands, in the order in which a maker meets them. */
const verb command_verbs[] = {
    {"count", "how many stones of which", "[FILE] [name=value]... [--csv|--json] [--out FOLDER]",
     "Counts the stones of a recipe, a costume or a club. With no FILE it counts along a line or a loop, or over an\n"
     "area, in one line:\n\n"
     "  girdle count line=\"32 cm\" stone=ss20 gap=\"1 mm\"\n"
     "  girdle count loop=\"34 cm\" stones=\"ss20 black; ss20 clear\"\n"
     "  girdle count area=\"120 cm2\" perimeter=\"48 cm\" stone=ss16 setting=honeycomb\n\n"
     "With a recipe name=value gives its parameters, with a costume its measures. A recipe's name will do as FILE:\n\n"
     "  girdle count \"alternating line\" line=\"38 cm\" gap=\"1 mm\"\n"
     "  girdle count frost.lua neckline=\"52 cm\"\n"
     "  girdle count CLUB tag=TAG\n",
     verb_count, 1},
    {"cost", "what they cost, and what to charge",
     "FILE [name=value]... [--prices FOLDER] [--csv|--json] [--out FOLDER]",
     "Quotes a costume or each costume of a club. The price tables are those of the club's folder, or those beside\n"
     "the costume, or those of --prices FOLDER. --out writes order.csv, lots.csv and counts.csv, with\n"
     "tag=TAG the quote; --csv prints the order of all.\n\n"
     "  girdle cost CLUB tag=TAG\n"
     "  girdle cost frost.lua neckline=\"52 cm\" --prices CLUB\n",
     verb_cost, 1},
    {"order", "what to buy, of whom, at the least cost",
     "FILE [name=value]... [--prices FOLDER] [--csv|--json] [--out FOLDER]",
     "The cheapest packs that cover a costume or a club with its spares and repair kits, less what is in stock, over "
     "all\n"
     "suppliers with their shipping. --out writes order.csv, lots.csv (from which lot each zone is worked) and "
     "counts.csv.\n\n"
     "  girdle order CLUB --csv\n",
     verb_order, 1},
    {"map", "a map at true size, and every stone's place",
     "FILE [name=value]... [--csv|--json|--pdf] [--page SIZE] [--mirrored] [--out FOLDER]",
     "Draws a costume at 1:1 in millimetres (SVG), with --mirrored for working from the back of the fabric. --csv and\n"
     "--json list every stone's place; --pdf makes pages to print at true size and lay on each other.\n"
     "--out writes them as TAG.svg, TAG.csv and with --pdf TAG.pdf, for each costume.\n\n"
     "  girdle map \"even scatter\" within=\"oval 8 cm x 6 cm\" > oval.svg\n"
     "  girdle map CLUB --out maps\n",
     verb_map, 1},
    {"sheet", "what to work from: sheets, guides, bags and a calendar",
     "FILE [name=value]... [--pdf] [--names] [--photo FILE] [--prices FOLDER] [--out FOLDER]",
     "The maker's sheet of a costume as one HTML file: counts, what to lay ready, the zones with pictures and ticks,\n"
     "cautions, a card to fill in. With --pdf strips and cards at true size, for a dress that no map can be laid "
     "under.\n"
     "--out writes TAG.html and TAG-guides.pdf for each costume, bags.html (a picking list and labels), and "
     "calendar.ics.\n"
     "Wearers' names are left out unless --names is given. --photo puts a photo of the costume (JPEG or PNG) where "
     "our\n"
     "figure would stand, without what the camera noted of place and day; a folder holds one for each TAG.\n\n"
     "  girdle sheet CLUB --out sheets\n",
     verb_sheet, 1},
    {"offer", "a page for the customer", "FILE... [name=value]... [--prices FOLDER] [--today DATE]",
     "One HTML page that offers each FILE (one to six versions of a costume) with its price and the day it is ready,\n"
     "beside gluing it oneself; with a care card. It shows no cost prices.\n\n"
     "  girdle offer light medium full --prices CLUB > offer.html\n",
     verb_offer, 6},
    {"club", "a whole club: quotes, one order, a calendar", "CLUB [--today DATE] [--csv|--json] [--out FOLDER]",
     "Works every costume of a club's folder: prints each quote, one order for all and the calendar. --out writes\n"
     "TAG.svg and TAG.csv for each costume, counts.csv, order.csv and lots.csv. Nothing is ever written into the "
     "club's "
     "folder.\n",
     verb_club, 1},
    {"recipes", "the house recipes, or what one takes", "[NAME|FILE] [--csv|--json]",
     "Lists the house recipes, or shows what one recipe or costume takes. Nothing is placed.\n\n"
     "  girdle recipes \"graded edge\"\n",
     verb_recipes, 1},
    {"weigh", "what the stones weigh, and where",
     "FILE [dress=MASS] [\"most share=SHARE\"] [\"most area=MASS\"] [\"most edge=MASS\"] [rests=ZONES] "
     "[name=value]...\n"
     "       [--csv|--json]",
     "Grams added by zone, front against back and left against right; beside the plain dress when it was weighed. A "
     "limit\n"
     "that is given (of the dress, g/m2 of an area, g/cm of an edge) is held against each zone; without one there is "
     "no\n"
     "verdict. All hangs from the straps but what rests= names, such as the stones of a waist that sits on the "
     "hips.\n\n"
     "  girdle weigh CLUB tag=TAG dress=\"310 g\" \"most share=20 %\" \"most edge=0.2 g/cm\" rests=\"waist; hem\"\n",
     verb_weigh, 1},
    {"opening", "whether rings of stones let hand, head or hips through",
     "ring=LENGTH through=LENGTH stretch=SHARE stone=STONE [gap=LENGTH] [lies=SHARE]\n"
     "       | FILE [head=LENGTH] [hand=LENGTH] [hips=LENGTH] [foot=LENGTH] [stretch=SHARE] [--csv|--json]",
     "A ring of stones does not stretch where the stones are. Says how far it reaches when the fabric is stretched as "
     "far\n"
     "as it goes, and what would let more through. Of a costume or a club it looks at every ring of stones at a neck "
     "or\n"
     "collar (the head), a wrist or cuff (the hand), a waist (the hips) or a leg (the foot, round heel and instep), by "
     "the\n"
     "girths given or those of each wearer in club.csv, and by `stretches` of fabric.csv.\n\n"
     "  girdle opening ring=\"15 cm\" through=\"22 cm\" stretch=\"60 %\" stone=ss20 gap=\"1 mm\"\n"
     "  girdle opening CLUB tag=TAG head=\"56 cm\" hips=\"92 cm\" hand=\"20 cm\" foot=\"31 cm\" stretch=\"70 %\"\n",
     verb_opening, 1},
    {"plan", "a costume from a total",
     "FILE pieces=N|money=SUM|evenings=N|drawer=all [name=value]... [--prices FOLDER] [--csv|--json] [--out FOLDER]",
     "How many stones each zone gets from a number of pieces, a sum of money, the evenings left or what is in stock. "
     "The\n"
     "costume as it is written is the most there can be. Zones of priority 1 are filled first, then 2 and so on; of "
     "those\n"
     "without one the edges and what is set by eye come first, and the areas share what remains; each keeps its own "
     "mix.\n"
     "Light (the edges alone), medium (and half of the areas) and full stand beside it. For money it is the greatest\n"
     "plan whose cheapest order fits, spares and shipping included; from stock no kind is exceeded, and no zone stops\n"
     "before its next stone is gone; the areas mix stones of one size as the drawer has them. It says the gap that "
     "each\n"
     "zone's stones stand apart; --out writes a costume's folder with those gaps, whose count is just the plan.\n\n"
     "  girdle plan CLUB tag=TAG money=\"60.00\"\n",
     verb_plan, 1},
    {"alike", "what stays the same over all sizes", "CLUB [routine=ROUTINE] [zone=ZONE [count=N]] [--csv|--json]",
     "In zones.csv, `alike` says what a zone keeps over the sizes of those who wear the costume in one routine: the "
     "gap\n"
     "(when nothing is said), the count (the same bag for all, as many as the smallest takes) or the picture (stones "
     "stand\n"
     "where the first wearer in club.csv has them, carried to each size; where a size is too small they close up, and\n"
     "those without room are left out). This lists what comes of it, with the smallest and largest gap and every "
     "stone\n"
     "left out. zone=ZONE finds, without any such word, the gap that gives each wearer one count: the least that "
     "anyone\n"
     "has, or count=N; the gaps may go into club.csv as a measure, which zones.csv then names as its gap.\n\n"
     "  girdle alike CLUB\n"
     "  girdle alike CLUB zone=waist routine=Undertow\n",
     verb_alike, 1},
    {"learn", "what the log says of spares and pace",
     "CLUB [CARD.csv | tag=TAG gross=N [hours=H]] [--write] [--csv|--json]",
     "Reads the club's log.csv: stones lost while working, stones that fell off, seconds a stone, between what the\n"
     "next job is likely to lie, which jobs are unusual, repair kits by zone; and what is reckoned with because of "
     "it.\n"
     "A filled job card (columns tag, stone, planned, had, bought, left; evenings or minutes of the whole job if\n"
     "known; date; with --phrases in the words of the printed sheet), or what is remembered of one old job, counts as\n"
     "if it stood in the log.\n"
     "--write appends it to log.csv, and puts what is left of a card's stones back into stock.csv. Both keep a .bak;\n"
     "nothing else ever changes a club's folder.\n"
     "  girdle learn CLUB\n"
     "  girdle learn CLUB tag=spring gross=12 hours=9 --write\n"
     "  girdle learn CLUB card.csv --write\n",
     verb_learn, 2},
    {"compare", "what to add, take off and buy",
     "OLD NEW [name=value]... | CLUB stone=STONE instead=STONE [routine=ROUTINE]\n"
     "       [--prices FOLDER] [--csv|--json]",
     "Holds a new version of a costume or a club against the old one: what to add and take off by zone and stone,\n"
     "what to buy beside, and what changes in weight, work and, with --prices, money. With one CLUB it says what comes "
     "of\n"
     "it when all of a routine, or of the club, wear another stone instead; of another size the zones are placed "
     "anew.\n\n"
     "  girdle compare CLUB routine=Hearth stone=\"ss20 red\" instead=\"ss16 red\"\n",
     verb_compare, 2},
    {"check", "whether a file is sound, placing nothing", "FILE",
     "Reads a recipe, a costume or a whole club, says what it takes and every fault with file and line. The function\n"
     "that places stones is never run, so a stranger's recipe can be looked at first.\n",
     verb_check, 1},
    {"ask", "asks about a dress, writes its folder and counts it", "[ANSWERS] --out FOLDER",
     "Asks in plain words how the fabric stretches, which stones, which edges and areas and how long they are, how "
     "far\n"
     "apart; each with an example. It writes FOLDER/zones.csv, and FOLDER/fabric.csv where the fabric stretches, which "
     "any\n"
     "spreadsheet opens, and says whether head, hand and hips pass. ANSWERS is a file with one answer a line, for "
     "when\n"
     "nobody sits at the keyboard; an empty line takes what stands in [brackets], lines with # are passed over.\n",
     verb_ask, 1},
    {"lines", "JSON jobs in, JSON answers out, a line each", "[FOLDER] < JOBS > ANSWERS",
     "Reads one JSON job a line and writes one JSON answer a line, in order. A job names a costume of FOLDER, or "
     "holds\n"
     "zones of its own, or a recipe and what it is given:\n\n"
     "  {\"tag\":\"ada\",\"costume\":\"frost\",\"measures\":{\"neckline\":\"52 cm\"}}\n"
     "  {\"zones\":[{\"zone\":\"neck\",\"shape\":\"loop\",\"length\":\"52 cm\",\"recipe\":\"double row\"}]}\n"
     "  {\"recipe\":\"alternating line\",\"given\":{\"line\":\"38 cm\"}}\n\n"
     "A line that is wrong is answered with its number and an error, and the rest go on.\n",
     verb_lines, 1},
    {"tables", "stones per 10 cm and per inch, by size and gap", "[stones=SIZES] [gap=GAPS] [--csv|--json|--pdf]",
     "Prints how many stones a line and an area take, in centimetres and inches, for the sizes and gaps named; with\n"
     "--pdf as a page to pin up, each size drawn as large as it is:\n\n"
     "  girdle tables stones=\"ss16; ss20\" gap=\"0 mm; 1.5 mm\"\n",
     verb_tables, 0},
    {"phrases", "what papers say, to put in your own words", "> FILE",
     "Prints a table of all English phrases. Fill in the column `own` for those you want to change (in your language, "
     "or\n"
     "\",\" beside \".\" for a decimal comma), and give the file to any command that makes papers:\n\n"
     "  girdle phrases > own.csv\n"
     "  girdle sheet CLUB --phrases own.csv --out sheets\n",
     verb_phrases, 0},
};
const uint64_t command_verb_count = sizeof command_verbs / sizeof command_verbs[0];
