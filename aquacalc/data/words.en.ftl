### All text that the workbook's code shows to a reader, in English. One file a language; the same keys and the
### same amounts in each.
###
### House style: name the thing in the reader's words, then the number, the limit, the next step. No codes, no
### blame, short plain sentences. Numbers may be firm, permissions are never given. Amounts come in as finished
### text with their units. Only characters of Western code page 1252, so that every terminal can show them.

## levels

level-fine = fine
level-watch = watch
level-act-today = act today
level-emergency = emergency
level-not-known = not known

## numbers, units, dates

not-known = not known
without-end = without end
range = { $low } to { $high }
when-one = in { $month }
when-span = from { $low } to { $high }
when-all-year = all year
at-least = { $amount } or more
full-stop = .
list-and = { $rest } and { $last }
list-or = { $rest } or { $last }
list-more = { $rest } and { $count } more
all-year = the whole year
date = { $day } { $month } { $year }
date-us = { $month } { $day }, { $year }

month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December

month-short-1 = Jan
month-short-2 = Feb
month-short-3 = Mar
month-short-4 = Apr
month-short-5 = May
month-short-6 = Jun
month-short-7 = Jul
month-short-8 = Aug
month-short-9 = Sep
month-short-10 = Oct
month-short-11 = Nov
month-short-12 = Dec

## labels of units, by kind of quantity; $n is the number before it, for one and many

unit-volume-l = L
unit-volume-ml = mL
unit-volume-us-gal = US gal
unit-volume-us-qt = US qt
unit-flow-l-h = L/h
unit-flow-us-gph = US gal/h
unit-air-flow-air-l-min = L/min
unit-length-m = m
unit-length-cm = cm
unit-length-ft = ft
unit-length-in = in
unit-bore-bore-mm = mm
unit-bore-bore-in = in
unit-area-m2 = m²
unit-area-ft2 = sq ft
unit-mass-kg = kg
unit-mass-g = g
unit-mass-lb = lb
unit-mass-oz = oz
unit-biomass-kg = kg
unit-biomass-g = g
unit-biomass-lb = lb
unit-biomass-oz = oz
unit-dose-g = g
unit-temperature-c = °C
unit-temperature-f = °F
unit-temperature-difference-difference-c = °C
unit-temperature-difference-difference-f = °F
unit-power-w = W
unit-energy-kwh = kWh
unit-energy-wh = Wh
unit-charge-ah = Ah
unit-voltage-v = V
unit-time-h = { $n ->
    [one] hour
   *[other] hours
}
unit-time-min = { $n ->
    [one] minute
   *[other] minutes
}
unit-days-d = { $n ->
    [one] day
   *[other] days
}
unit-pressure-kpa = kPa
unit-load-kg-m2 = kg/m²
unit-load-lb-ft2 = lb/sq ft
unit-concentration-mg-l = mg/L
unit-nitrogen-mg-l = mg/L as N
unit-drift-mg-l = mg/L as N a week
unit-alkalinity-mg-l-caco3 = mg/L CaCO3
unit-hardness-hardness-mg-l-caco3 = mg/L CaCO3
unit-irradiation-mj-m2-d = MJ/m² a day
unit-speed-m-s = m/s
unit-speed-mph = mph
unit-rain-rain-mm = mm
unit-rain-rain-in = in
unit-share-pct = %
unit-percent-pct = %
unit-conductivity-us-cm = µS/cm
unit-density-kg-m3 = kg/m³
unit-density-lb-us-gal = lb/US gal
unit-specific-surface-m2-m3 = m²/m³
unit-specific-surface-ft2-ft3 = sq ft/cu ft
unit-light-umol-m2-s = µmol/m²/s
unit-heads-per-week-heads-wk = { $n ->
    [one] head a week
   *[other] heads a week
}
unit-feed-g-d = g/day
unit-feed-area-g-d-m2 = g/m² a day
unit-feed-area-g-d-ft2 = g/sq ft a day
unit-turnover-per-hour = { $n ->
    [one] time an hour
   *[other] times an hour
}

## names of the parts of the balance

limit-oxygen = oxygen
limit-nitrification = filter bacteria
limit-density = room in the tank
limit-power-cut = power cut
limit-solids = solids in the beds
limit-plants = what the plants take up
limit-turnover = turnover

## words for readings

word-ph = pH
word-oxygen = oxygen
word-alkalinity = alkalinity (KH)
word-hardness = hardness (GH)
word-temperature = water temperature
word-tan = ammonia (TAN)
word-nitrite = nitrite
word-nitrate = nitrate
word-chlorine = chlorine
word-conductivity = conductivity
word-iron = iron
word-flow = pump flow

## cautions of fish, crops and chemicals, as data/cautions.csv names them

caution-law = may be forbidden or need a permit: ask before buying, never release
caution-invasive = spreads in open water: no fish, plant, seed or tank water goes into streams, ponds or drains
caution-raw = not for eating raw from a loop: cook or peel it
caution-cook = raw it holds substances that make people ill: cook it
caution-parasite = can pass parasites to people: cook it through
caution-irritant = irritates skin or eyes: wear gloves
caution-spines = its spines wound, and wounds in fish water get infected: wear gloves, use a net
caution-bite = has claws or strong teeth: use tools, not fingers
caution-predator = eats its own kind or tank mates when sizes differ: grade it and give it room
caution-caustic = burns eyes and skin: wear goggles and gloves; the solid goes into cold water, never the reverse; never near acids
caution-acid = burns eyes and skin: wear goggles and gloves; acid goes into water, never the reverse; never near bleach; treat top-up water in its own vessel
caution-heat = gets hot when it dissolves: use cold water and small portions
caution-dust = its dust hurts lungs and eyes: no wind, mask and goggles
caution-fumes = gives off fumes: open only outdoors
caution-oxidiser = feeds fire: keep it from anything that burns
caution-adults = for adults only: lock it away from children and pupils
caution-sodium = its sodium stays in the loop and costs crops
caution-slow = works over days to weeks: no help today
caution-stain = colours water and hands and can hide the colour of a test

## problems: what cannot be accepted. One sentence each, without its full stop; the place goes before it and the
## nearest known name after it.

problem-at = { $place }: { $sentence }
problem-nearest = { $sentence }; the nearest known name is “{ $nearest }”

problem-unknown-name = “{ $found }” is not known; known are { $allowed }
problem-empty = nothing is written here; give a value
problem-not-a-number = “{ $found }” cannot be read as a number; write it like 6.8, 6,8 or 1 1/2
problem-not-finite = “{ $found }” is no amount; give an ordinary number
problem-too-large = { $found } is too large to be true; look at the digits and the unit
problem-ambiguous-number = { $found } can be read in two ways; write { $allowed }
problem-ambiguous-unit = “{ $found }” can mean several units; write { $allowed }
problem-unit-missing = { $found } has no unit; write { $allowed }
problem-unknown-unit = the unit in “{ $found }” is not known; use { $allowed }
problem-unit-kind = “{ $found }” has a unit of another kind; use { $allowed }
problem-unit-parts = “{ $found }” does not go from large to small units; write it like 5 ft 3 in

problem-range = { $found } is outside of what can be: { $low } to { $high } { $measure }
problem-not-whole = { $found } is not a whole number
problem-choice = “{ $found }” is none of the choices: { $allowed }
problem-not-text = { $found } stands where text belongs; put it in quotation marks
problem-text = this text is too long or holds signs that cannot be printed; at most { $allowed } letters
problem-date = “{ $found }” is not a date; write year, month and day, as 2027-03-01
problem-day-of-year = “{ $found }” is not a day of the year; write month and day, as "04-15"
problem-months = a list of twelve values belongs here, January first; found { $found }
problem-month-numbers = “{ $found }” is not a list of months; write their numbers, as [4, 5, 6]
problem-steps = the steps of a scale are at least two rising numbers; found { $found }
problem-given-twice = given more than once: { $found }; keep one
problem-unknown-key = “{ $found }” is not a key of this section; known are { $allowed }
problem-key-unit = “{ $found }” does not name one unit; use { $allowed }
problem-missing = this is missing; it must be given
problem-section = { $found } stands where a section belongs; begin one with { $allowed }
problem-format = format { $found } is not known; this program reads format { $allowed }
problem-basis-missing = { $found } of nitrate can count nitrogen or the ion; say which as nitrate_basis, { $allowed }
problem-name-twice = “{ $found }” is already the name of { $allowed }; give each its own
problem-no-tank = there is no fish tank; add one under [[tank]]
problem-no-bed = there is no grow bed; add one under [[bed]]
problem-no-fish = there are no fish, so there is nothing to balance; add some under [[fish]]
problem-climate-missing = there is no climate; give air_max and air_min under [site.climate], or a weather_file
problem-min-above-max = the lowest temperature { $found } °C is above the highest of the month, { $allowed } °C
problem-flood-above-rim = water { $found } deep does not fit into a bed { $allowed } deep
problem-sump-above-rim = { $found } of water does not fit below the rim, which holds { $allowed }
problem-tank-too-full = { $found } do not fit into surface times depth, which make { $allowed }
problem-final-below-start = the final weight { $found } is below the weight at the start, { $allowed }
problem-crops-beyond-bed = the crops ask for { $found }, the bed has { $allowed }
problem-dates-reversed = { $found } is before the start, { $allowed }
problem-weather-column = there is no column “{ $found }”; the columns are { $allowed }
problem-weather-month = no day in the months { $found }; a whole year is needed
problem-no-such-place = the garden file has no place “{ $found }”
problem-file-missing = there is no file “{ $found }”
problem-file-unreadable = “{ $found }” cannot be read: { $allowed }
problem-file-not-text = “{ $found }” is not a text file in UTF-8; save it as plain text
problem-file-empty = “{ $found }” is empty
problem-file-changed = “{ $found }” was changed by something else since it was read; open it again
problem-file-exists = “{ $found }” exists already and is not written over
problem-demo-read-only = “{ $found }” is a demo garden and stays as it is; make a garden of your own with: aquacalc new FOLDER
problem-toml = line { $low }, column { $high } cannot be read: “{ $found }”; look for a missing quotation mark, bracket or equals sign
problem-toml-twice = line { $low } says something for the second time: “{ $found }”
problem-toml-end = the file ends too early; look at line { $low }: “{ $found }”

## findings of the balance: oxygen and the power cut

finding-oxygen-limit-over =
    .title = Oxygen: air and flow carry { $limit_middle }, the fish want { $demand_middle } in { $worst }
    .why = Fish, filter bacteria and waste all use oxygen, and more feed means more of each. The fish want more than the oxygen supply carries { $when }; in { $worst } they want { $demand } against { $limit }. Low oxygen kills before anything else does.
    .action = Add an air pump or stones, let the water fall further, or keep fewer fish. The supply carries { $fish_carried } of fish ({ $count } at final size) or the feed for { $beds } of bed; { $fish_now_middle } of fish are planned. Until then feed no more than { $limit_middle }.
    .avoid = Do not give the whole day's feed in one meal, and do not feed in the evening: oxygen is lowest in the hours after a meal and before dawn.
finding-oxygen-limit-near =
    .title = Oxygen: { $demand_middle } of feed in { $worst } comes near the { $limit_middle } that air and flow carry
    .why = The fish come near what the oxygen supply carries { $when }; in { $worst } they want { $demand } against { $limit }. A dirty air stone or one hot week is enough to use up the rest.
    .action = Measure oxygen at dawn in these months. Clean the air stones now and keep a spare air pump. The supply carries { $fish_carried } of fish ({ $count } at final size) or the feed for { $beds } of bed; { $fish_now_middle } of fish are planned.
    .avoid = Do not add fish or feed more before a dawn reading shows room.

finding-oxygen-outage-over =
    .title = Power cut: your fish have { $response }, and help can be { $help } away
    .why = Without pumps and air the fish use up the oxygen of the tank alone. In { $worst } { $fish_now } of fish are in the tank; { $fish_carried } ({ $count } at final size) would last until someone can be there. In feed that is { $limit } against { $demand }, in beds { $beds }. The stock is too large for this { $when }.
    .action = Name a backup that starts by itself: { $air } of air for { $help } needs a battery of { $battery }. Or find somebody who can be there within { $response }, or keep fewer fish.
    .avoid = Do not count on a generator in the shed or on the still water surface: neither helps in time. Never run a generator indoors.
finding-oxygen-outage-near =
    .title = Power cut: the fish would only just last the { $help } until someone can be there
    .why = In { $worst } { $fish_now } of fish are in the tank; { $fish_carried } ({ $count } at final size) would last without power until help comes. In feed that is { $limit } against { $demand }, in beds { $beds }. It is close { $when }; in the warmest month you have { $response } to act.
    .action = Keep a battery air pump ready: { $air } of air and a battery of { $battery } close the gap. Test it every month.
    .avoid = Do not feed in the hours before a planned power cut, and not until 12 hours after one.

finding-oxygen-response-minutes =
    .title = After a power cut you have { $response } to act
    .why = In { $worst }, at { $water }, freshly fed fish bring the tank water to their critical oxygen in { $danger }. Half of the short end is the time to count on. Hardly anybody gets there in time.
    .action = Have air that starts by itself: a battery air pump on a relay, or oxygen that opens when the power fails. Pull the plug once a month and watch it start.
    .avoid = Do not rely on an alarm alone or on a generator that somebody has to start.
finding-oxygen-response-hour =
    .title = After a power cut you have { $response } to act
    .why = In { $worst }, at { $water }, freshly fed fish bring the tank water to their critical oxygen in { $danger }. Half of the short end is the time to count on.
    .action = Have a power-failure alarm that reaches you at night, and a battery air pump beside the tank. Test both every month.
    .avoid = Do not wait for the power to come back before you start the air.
finding-oxygen-response-hours =
    .title = After a power cut you have { $response } to act
    .why = In { $worst }, at { $water }, freshly fed fish bring the tank water to their critical oxygen in { $danger }. Half of the short end is the time to count on.
    .action = Keep a charged battery air pump beside the tank and agree who goes there first. Test it every month.
    .avoid = Do not feed until 12 hours after the power is back.
finding-oxygen-response-hand =
    .title = After a power cut you have { $response } to act
    .why = In { $worst }, at { $water }, freshly fed fish bring the tank water to their critical oxygen in { $danger }. Half of the short end is the time to count on. That leaves time for a prepared procedure by hand.
    .action = Hang the emergency card by the tank and practise once: stop feeding, scoop and pour water, start spare air.
    .avoid = Do not add fish without looking at this time again: twice the fish halve it.

finding-oxygen-no-backup =
    .title = No backup is named for a power cut
    .why = Your fish have { $response }; someone can be there within { $help }. As long as nothing is named, the balance counts the power cut as a limit.
    .action = Write what you have into the garden file. To bridge { $help } takes { $air } of air and a battery of { $battery }.
    .avoid = Do not name a backup that has not been tried with the plug pulled.
finding-oxygen-backup-not-told =
    .title = How long the backup lasts is not known
    .why = A backup is named, but neither its hours nor its battery. It has to last { $help }; air for that long takes a battery of { $battery }.
    .action = Read the battery's label, or run the backup until it stops and note the hours. Write it into the garden file.
    .avoid = Do not run that test with fish that depend on it.
finding-oxygen-backup-small =
    .title = The backup is too small for { $help } without power
    .why = To keep the fish until someone can be there takes { $air } of air and a battery of { $battery }. What is named gives less.
    .action = Add a battery or a second air pump, find somebody who can be there sooner, or keep fewer fish.
    .avoid = Do not count the battery's full label: cold, age and depth of discharge take a large part.
finding-oxygen-backup-short =
    .title = The backup runs { $lasts }, but help can be { $help } away
    .why = When it stops, the fish use up the oxygen of the tank within hours or less.
    .action = Store more fuel or a larger battery, or find somebody who can be there sooner.
    .avoid = Never run a generator indoors or beside an open window: its exhaust kills people.

finding-oxygen-thin =
    .title = { $subject }: water full of air holds { $full_middle } of oxygen, { $species } want { $need }
    .why = Warm water and high ground hold little oxygen. At { $water } and { $altitude } above the sea the water can hold { $full } { $when } ({ $sea_level } at sea level). Real tanks stay below that, so little is left between full and too low.
    .action = In these months run all air day and night, shade the tank, feed early in the morning and in small meals.
    .avoid = Do not judge oxygen by a table made for sea level, and do not feed when the fish hang at the surface.
finding-oxygen-thin-over =
    .title = { $subject }: even water full of air holds only { $full_middle } of oxygen, { $species } want { $need }
    .why = At { $water } and { $altitude } above the sea the water can hold { $full } { $when } ({ $sea_level } at sea level). No air pump brings it higher.
    .action = Cool the water with shade and night air, keep fewer fish in these months, or choose a species that bears less oxygen.
    .avoid = Do not feed full rations in these months: the fish cannot use them.

## findings of the balance: filter, density, water temperature

finding-ammonia-limit-over =
    .title = Filter bacteria: they can turn over { $limit_middle } of feed, the fish want { $demand_middle } in { $worst }
    .why = Bacteria on wet surfaces turn the fish's ammonia into nitrate. The fish want more than these surfaces carry { $when }; in { $worst } they want { $demand } against { $limit }. Cold water slows the bacteria down. What they leave stays in the water as ammonia and nitrite.
    .action = Add { $missing_middle } of filter medium in a separate biofilter (it may be { $missing }), or keep fewer fish. The filter carries { $fish_carried } of fish ({ $count } at final size) or the feed for { $beds } of bed; { $fish_now_middle } of fish are planned. Until then feed no more than { $limit_middle } and test ammonia and nitrite twice a week.
    .avoid = Do not raise the pH while ammonia shows, and do not wash all filter media at once.
finding-ammonia-limit-near =
    .title = Filter bacteria: { $demand_middle } of feed in { $worst } comes near the { $limit_middle } that they can turn over
    .why = The fish come near what the wet surfaces carry { $when }; in { $worst } they want { $demand } against { $limit }. Sludge, a cold week or low alkalinity use up the rest.
    .action = Test ammonia and nitrite weekly in these months and keep the alkalinity up. The filter carries { $fish_carried } of fish ({ $count } at final size) or the feed for { $beds } of bed; { $fish_now_middle } of fish are planned.
    .avoid = Do not raise the feed by more than a spoon a week.

finding-density-limit-over =
    .title = Room in the tank: more fish than it holds in { $worst }
    .why = Crowded fish grow badly, hurt each other and leave no time in a power cut. The planned fish pass the density that small gardens keep { $when }; in { $worst } they are { $fish_now } against { $fish_carried } ({ $count } at final size). In feed that is { $demand } against { $limit }, the feed for { $beds } of bed.
    .action = Stock fewer fish, take out the largest ones earlier, or add tank water.
    .avoid = Do not go by rules that count fish without their final size.
finding-density-limit-near =
    .title = Room in the tank: nearly full in { $worst }
    .why = The planned fish come near the density that small gardens keep { $when }; in { $worst } they are { $fish_now } against { $fish_carried } ({ $count } at final size). In feed that is { $demand } against { $limit }, the feed for { $beds } of bed.
    .action = Weigh ten fish each month and take out the largest when the tank comes near its line.
    .avoid = Do not add new fish before the large ones are out.

finding-temperature-warm =
    .title = { $subject }: the water is too warm for { $species }, { $water_middle } in { $worst }
    .why = Above { $line } { $species } eat and grow badly. The water is { $water } { $when } as a month's mean, and hot days go beyond that. At { $deadly } they die.
    .action = Shade tank and pipes, cover the water from the sun, run the beds at night. Give half a ration, early in the morning, with all air running.
    .avoid = Do not cool with ice or cold tap water by more than 1 °C (2 °F) an hour.
finding-temperature-hot =
    .title = { $subject }: the water is far too warm for { $species }, { $water_middle } in { $worst }
    .why = { $species } do badly above { $line } and die at { $deadly }. The water is { $water } { $when } as a month's mean, and hot days go beyond that.
    .action = Take these fish out before these months, or choose a species for warm water. Until then: no feed, shade, all air, night flow.
    .avoid = Do not feed, handle or move the fish in the heat of the day.
finding-temperature-deadly-hot =
    .title = { $subject }: { $species } do not live through { $worst }, the water reaches { $water_middle }
    .why = { $species } die at { $deadly }; they do badly above { $line } already. The month's mean is { $water } { $when }, and hot days go beyond that. More air does not save them from heat.
    .action = Plan to take these fish out before then, or choose a species that lives at these temperatures.
    .avoid = Do not count on ice bottles for weeks: they hold for hours.
finding-temperature-may-be-hot =
    .title = { $subject }: in a warm year { $worst } is too hot for { $species }
    .why = The middle is { $water_middle }, but it may be { $water }. { $species } do badly above { $line } and die at { $deadly }.
    .action = Write down the water temperature at noon and at dawn this year; ten readings beside the air temperature narrow the estimate. Have shade ready { $when }.
    .avoid = Do not stock for these months on the middle figure alone.
finding-temperature-cold =
    .title = { $subject }: { $species } stop eating { $when }; the water falls to { $water_middle } in { $worst }
    .why = Below { $line } they hardly digest; feed lies and rots. The water is { $water } in { $worst }. At { $deadly } they die.
    .action = Stop feeding in these months. Plan less for the beds: no feed means no plant food. Let the water bypass the beds on cold nights.
    .avoid = Do not warm the water quickly for a feeding: 1 °C (2 °F) an hour at most.
finding-temperature-deadly-cold =
    .title = { $subject }: { $species } do not live through { $worst }, the water falls to { $water_middle }
    .why = { $species } stop eating below { $line } and die at { $deadly }. The month's mean is { $water } { $when }, and cold nights go below that.
    .action = Take these fish out before then, or cover, insulate and heat the tank; or choose a species that winters here.
    .avoid = Do not leave cold beds running at night: they cool the tank more than its walls do.
finding-temperature-may-be-cold =
    .title = { $subject }: in a cold year { $worst } may be too cold for { $species }
    .why = The middle is { $water_middle }, but it may be { $water }. { $species } stop eating below { $line } and die at { $deadly }.
    .action = Write down the water temperature at dawn this winter. Have a cover and a way to bypass the beds ready { $when }.
    .avoid = Do not feed on a cold morning by habit: look at the thermometer first.

## findings of the balance: solids, turnover, nitrate, nitrite line, first year

finding-solids-limit-over =
    .title = Solids: { $load } on the media beds, where they clog from { $line }
    .why = Fish waste stays in the beds. More of it arrives { $when } than roots, worms and bacteria usually break down, so water finds short cuts and black sludge forms.
    .action = Put a settler before the beds or empty it more often, add bed area, or feed less. Time how long a bed takes to fill: a shorter time means lost pore space.
    .avoid = Do not stir or wash a whole bed at once: sludge takes the oxygen and gives off gas that kills fish. Rinse a third at a time, in tank water.
finding-solids-note =
    .title = Solids: { $load } on the media beds is worth watching
    .why = The beds take in half or more { $when } of the { $line } from which they usually clog. The handbook's feed for beds lies in this range too.
    .action = Write down once how long each bed takes to fill, and look again every three months. Add worms to beds that flood and drain.
    .avoid = Do not wait for water to stand on top of the medium.

finding-turnover-low =
    .title = Turnover: the pump moves the fish tank's water { $turnover_middle }
    .why = Usual is once to twice an hour. The flow is { $flow } ({ $turnover }). Slow water leaves waste in the tank and brings little oxygen back.
    .action = Time a bucket at the inlet to know the true flow. Clean the pump, shorten or widen the pipe, or take the next larger pump. With good air in the tank the oxygen balance decides, not this hint.
    .avoid = Do not read the flow off the pump's box: that is the flow at no height.
finding-turnover-high =
    .title = Turnover: the pump moves the fish tank's water { $turnover_middle }
    .why = Usual is once to twice an hour. At { $flow } ({ $turnover }) fish may have to swim hard, and the pump uses more power than it needs to.
    .action = Look whether fish can rest out of the stream; turn part of the flow to a bed or take a smaller pump.
    .avoid = Do not choke a pump at its inlet.

finding-nitrate-rising =
    .title = Nitrate rises { $when }, { $drift }
    .why = It is steepest in { $worst }: the feed ({ $demand }) brings more nitrogen than the crops take up; { $holds } of feed would hold it level. The handbook's rule of feed for bed area says { $rule }: it counts on losses and on other plant foods than nitrogen.
    .action = Fill empty places, plant fast leafy crops, add bed area, or feed less. Test nitrate every two weeks and change water when it passes 100 mg/L as N (50 mg/L for cold-water fish).
    .avoid = Do not take a high nitrate alone for a full plant diet: iron, potassium or calcium may still be short.
finding-nitrate-rising-bare =
    .title = Nitrate rises { $when }, { $drift }: no crop is growing
    .why = It is steepest in { $worst }: the fish eat { $demand } while the beds stand empty or still, so nothing takes up the nitrogen.
    .action = Plant something that grows in these months, or count on changing water. Test nitrate every two weeks.
    .avoid = Do not leave the beds dry for weeks: the filter bacteria live there.
finding-nitrate-falling =
    .title = Nitrate falls { $when }, { $drift }: the plants want more than the fish give
    .why = It is steepest in { $worst }: the fish eat { $demand }, and the nitrogen that the crops take up would need { $holds }, and the handbook's rule asks for { $rule }.
    .action = When nitrate comes below 10 mg/L as N, look first at pH and the filter. Then plant less, or stock more fish if the limits leave room.
    .avoid = Do not feed more than the fish eat to feed the plants: what is left over rots.

finding-nitrite-line-raised =
    .title = Nitrite: the line had to be set at { $nitrite }, and it rests on chloride
    .why = A living filter cannot hold nitrite lower than that in your coldest water. Chloride keeps nitrite out of the fish's gills: it takes { $chloride } of chloride, and your top-up water has { $tap }.
    .action = Keep chloride at { $chloride } or above. Calcium chloride or potassium chloride also feeds the plants. Test nitrite weekly.
    .avoid = Do not add salt by the handful: sodium stays and costs crops. Members of the sunfish family gain little from chloride.
finding-nitrite-line-chloride-not-known =
    .title = Nitrite: the line had to be set at { $nitrite }, and the chloride of your water is not known
    .why = A living filter cannot hold nitrite lower than that in your coldest water. Chloride keeps nitrite out of the fish's gills; it takes { $chloride }.
    .action = Look up chloride in the water company's report, or test it, and write it into the garden file.
    .avoid = Do not take mains water for salty because it is hard.

finding-first-year-half =
    .title = First year: stock about { $advised_middle } of fish, half of what the garden carries
    .why = New filters, new beds and new hands carry less. { $fish_now } of fish are planned in { $worst }, and too many { $when }; advised for a first year are { $advised } ({ $count } at final size).
    .action = Stock half of the fish now. Add the rest after a full year without an emergency.
    .avoid = Do not make up for fewer fish with more feed.

## findings of the garden: top-up water

finding-chlorine-untreated-chloramine =
    .title = Top-up water: chloramine, and nothing here to remove it
    .why = Your supplier may send { $chlorine } of chloramine. It does not leave by standing, kills fish at traces and harms the filter. A test strip that reads 0 proves nothing.
    .action = Keep sodium thiosulfate (crystals, 5-hydrate): up to { $dose } for every { $new_water } of new water, dissolved, into the new water before it meets the fish. Then test total chlorine. The treatment sets ammonia free: test it too.
    .avoid = Do not run a hose straight into the tank, and do not use sulphite or metabisulphite: they take the oxygen.
finding-chlorine-untreated-chlorine =
    .title = Top-up water: chlorine, and nothing here to remove it
    .why = Your supplier may send { $chlorine } of chlorine. Fish die at traces. An open barrel with strong air loses it in days, sometimes in more than a week in the dark.
    .action = Keep sodium thiosulfate (crystals, 5-hydrate): up to { $dose } for every { $new_water } of new water, dissolved, before it meets the fish. Or air a barrel and use it when a total-chlorine test shows nothing. Ask every year whether the supplier has changed to chloramine.
    .avoid = Do not run a hose straight into the tank, and do not walk away from a running hose.
finding-chlorine-not-known =
    .title = Top-up water: chlorine, chloramine or neither is not known
    .why = It changes everything: chlorine leaves an aired barrel in days, chloramine stays for weeks. The balance counts on up to { $chlorine }.
    .action = Ask the water company which it uses and the most it sends. Until then treat as for chloramine: up to { $dose } of sodium thiosulfate (crystals, 5-hydrate) for every { $new_water } of new water, before it meets the fish.
    .avoid = Do not take a strip that reads 0 for proof.
finding-chlorine-float-valve =
    .title = The float valve lets chlorinated water straight in
    .why = It works when nobody looks, hides leaks, and at { $chlorine } as little as { $most } at one time is more than fish should meet.
    .action = Feed the valve from a barrel of treated water that can run empty, with an air gap above the water. Put a meter on it.
    .avoid = Do not leave the valve on the mains while you are away.

finding-top-up-hard =
    .title = Top-up water is hard: { $alkalinity } of alkalinity
    .why = It holds the pH up and brings calcium and magnesium with every top-up. Iron gets scarce for plants above pH 7.2.
    .action = Let the filter use the alkalinity up and add no base while it stays over the target. Bring potassium as potassium sulphate and iron in a form that holds at this pH. Rain water in part brings it down.
    .avoid = Do not put acid into the fish tank. It kills by carbon dioxide, and the pH comes back.
finding-top-up-soft =
    .title = Top-up water is soft: { $alkalinity } of alkalinity
    .why = The filter uses alkalinity up. When it is gone the pH falls below 6 within days, the filter stops and ammonia builds up.
    .action = Test alkalinity every week and keep 20 to 80 mg/L as CaCO3 with potassium bicarbonate and calcium carbonate, in the steps of the dose table.
    .avoid = Do not use baking soda as a habit: its sodium stays. Do not raise a fallen pH before you have tested ammonia.
finding-top-up-low-calcium =
    .title = Top-up water brings little calcium and magnesium: hardness { $hardness }
    .why = Feed brings only a few hundredths of what crops want of both. Tip burn on young leaves and rot at the end of fruit come first.
    .action = Bring calcium with calcium carbonate or calcium chloride, magnesium with Epsom salt, by the dose table. Test hardness monthly.
    .avoid = Do not give both and potassium at once: one change, then two weeks of looking.
finding-top-up-alkalinity-not-known =
    .title = Alkalinity of the top-up water is not known
    .why = Hard and soft water lead to different gardens: which base, which iron, whether any base at all.
    .action = Test alkalinity (KH) of the tap once, or read the water company's report, and write it into the garden file.
    .avoid = Do not dose a base by pH alone.

## findings of the garden: kits and readings

finding-kit-none =
    .title = No test kit is named
    .why = Without a kit's own basis and steps a reading cannot be judged, and act-at values cannot be printed as your kit shows them.
    .action = Add a [[kit]] with its parameters, what each counts (as N, as NH3, as NH4, as the ion) and the steps of its leaflet.
    .avoid = Do not copy the steps of another kit.
finding-kit-basis-not-known =
    .title = { $subject }: what it counts is not known for { $readings }
    .why = The same water reads 1 as N, 1.3 as NH4, 3.3 as NO2 or 4.4 as NO3. Without the basis a reading is not known, never fine.
    .action = Find in the leaflet whether it says N, NH3, NH4, NO2 or NO3, and write it into the garden file as the basis.
    .avoid = Do not guess by the colour or by what another kit does.
finding-reading-none =
    .title = Not measured here: { $readings }
    .why = Where nothing was measured the balance uses targets, and the water itself is not known.
    .action = Measure in the morning before feeding and write the values into the garden file or the log.
    .avoid = Do not take the plan's targets for readings.

## findings of the garden: fish, feed, law

finding-fish-not-eaten =
    .title = { $subject }: { $species } are not taken out to eat
    .why = Their plan runs on feed alone: they stay, grow slowly and are fed for what filter and plants carry.
    .action = Feed by the line of the balance. Plan a home for fish that outgrow the tank.
    .avoid = Never release fish into a pond or stream.
finding-fish-alone =
    .title = { $subject }: { $count } { $species } are few for company
    .why = They live in groups of { $group } or more; fewer fight or hide and feed badly.
    .action = Stock a full group of equal size, or choose a species that lives singly.
    .avoid = Do not add small ones one by one later.
finding-feed-protein-high =
    .title = { $subject }: feed with { $protein } protein is more than { $species } of this size need ({ $wanted })
    .why = Protein that fish cannot use leaves them as ammonia. The balance counts with the protein of your bag.
    .action = Buy a feed with { $wanted } protein when this bag is used up.
    .avoid = Do not feed the same grams of a richer feed: fewer grams carry the same nitrogen.
finding-feed-protein-low =
    .title = { $subject }: feed with { $protein } protein is less than { $species } need ({ $wanted })
    .why = Fish grow slower than the plan says and leave more waste.
    .action = Buy a feed with { $wanted } protein when this bag is used up.
    .avoid = Do not use feed for other animals: oils, salt and pellet size do not fit.
finding-law-species =
    .title = Ask before you buy: { $species }
    .why = Keeping, moving or selling this species needs a permit in some places and is forbidden in others. The workbook does not know your law.
    .action = Ask the fisheries authority, and write office, date and answer on the page of local rules and into the garden file.
    .avoid = Never release fish, plants or tank water.
finding-law-species-noted =
    .title = Ask before you buy: { $species }
    .why = Keeping, moving or selling this species needs a permit in some places and is forbidden in others. Known so far: { $note }. The workbook does not know your law.
    .action = Ask the fisheries authority, and write office, date and answer on the page of local rules and into the garden file.
    .avoid = Never release fish, plants or tank water.
finding-law-crop =
    .title = Ask before you plant: { $crop }
    .why = This plant spreads in open water and is forbidden or under permit in some places.
    .action = Ask the plant-health or invasive-species office, and write office, date and answer on the page of local rules.
    .avoid = Do not throw cuttings or roots into a stream, pond or open drain.

## findings of the garden: how it is built

finding-ammonia-no-biofilter =
    .title = { $area } of raft or channel, no media bed and no biofilter
    .why = Media beds carry the filter bacteria in passing; rafts and channels have little surface. Without a separate filter ammonia stays in the water.
    .action = Add a biofilter of the size that the balance gives, after a solids filter.
    .avoid = Do not stock before it has been started up.
finding-solids-no-filter =
    .title = { $area } of raft or channel and no solids filter before it
    .why = Fish waste settles on roots and in channels, takes their oxygen and rots.
    .action = Put a settler or a media bed before the rafts and empty it every day or two.
    .avoid = Do not catch the waste in the sump: the pump breaks it up.
finding-ph-limestone =
    .title = { $subject }: { $medium } holds the pH near 8
    .why = Limestone dissolves until the pH is too high for iron and other plant foods, for years.
    .action = Try a handful with vinegar. If it fizzes, exchange the medium, or grow crops that bear pH 8 and bring iron that holds there.
    .avoid = Do not fight it with acid: the stone gives back what the acid takes.
finding-ph-medium-untested =
    .title = { $subject }: { $medium } may raise the pH
    .why = Mortar and lime in it dissolve for months and hold the pH up.
    .action = Try a handful with vinegar. If it fizzes, take another medium.
    .avoid = Do not fill the bed before you have tried it.
finding-load-upper-floor =
    .title = { $subject }: { $load } on an upper floor. Ask a structural engineer
    .why = Floors and decks of homes are designed for about { $line }. Water and wet stone pass that quickly.
    .action = Ask a structural engineer before it is filled, or build on the ground.
    .avoid = Do not fill it to try.
finding-sump-overflows =
    .title = The sump cannot hold what drains into it
    .why = When the pump stops, { $drains } run back from beds and pipes. The sump has room for { $room }; with a tenth kept free, { $missing } are missing.
    .action = Take a larger sump, lower the flood level, or flood the beds in turn.
    .avoid = Do not count on the beds draining one after the other: sooner or later they fall in step.
finding-sump-tight =
    .title = The sump is nearly full when the pump stops
    .why = { $drains } run back from beds and pipes; there is room for { $room }, and { $free } of that should stay free.
    .action = Stop the pump once, wait, and mark the level. Leave a tenth of the height free.
    .avoid = Do not top up while the pump is off.
finding-away-water =
    .title = Away up to { $days }: the spare water lasts { $lasts } at most
    .why = The garden loses about { $loss } a day by plants and open water, more in heat. Fish go longer without food than the pump goes without water.
    .action = Ask somebody to top up to the line with treated water every few days, or add a barrel of treated water on a float valve. Shade the beds.
    .avoid = Do not leave a float valve on the mains, and do not leave a full automatic feeder.
finding-people-open-tank =
    .title = { $subject }: open water where children come
    .why = A small child can drown in a few centimetres (one inch) of water.
    .action = Fit a lid or mesh that a child cannot lift, over tank, sump and barrels. Ask the local rules on pools and ponds.
    .avoid = Do not rely on someone watching.
finding-people-school-chemicals =
    .title = Chemicals here are for adults only
    .why = Bases and acids burn eyes and skin. In a school or where children come they belong in a locked place.
    .action = Lock them up, wear goggles and gloves, add the solid to water and never water to the solid. Prefer bicarbonate to hydroxides.
    .avoid = No pupil weighs, carries or adds them. Never mix chemicals.

## the balance in sentences

middle-and-range = { $middle } ({ $range })

balance-no-demand = No fish eat in these twelve months, so no limit binds.
balance-must-over = First limit: { $name }. In { $month } it carries { $limit } of feed, and the fish want { $demand }.
balance-must-within = No limit that must hold is exceeded. Nearest: { $name }. In { $month } it carries { $limit } of feed, and the fish want { $demand }.
balance-better-over = Had better hold, but is exceeded: { $name }. In { $month } it carries { $limit }, and the fish want { $demand }.
balance-better-within = What had better hold is not exceeded either. Nearest: { $name }. In { $month } it carries { $limit }, and the fish want { $demand }.
balance-next = With a backup for the power cut the next limit would be { $name } at { $limit }.
balance-in-fish-and-bed = That is { $kg } of fish at that time, { $count } fish at their final { $weight }, or { $bed } of planted bed.
balance-in-bed = That is { $bed } of planted bed.
balance-outage = Power cut: someone has to act within { $response } (freshly fed fish in { $month } reach their critical oxygen in { $danger }). Someone can be there in { $help }; of { $stock } of fish, { $unaided } would last that long unaided.
balance-outage-gap = Nothing is named that bridges it: that takes { $air } of air and a battery of { $battery }.
balance-outage-backed = The backup has to give { $air } of air from a battery of { $battery } or more.
balance-outage-no-gap = This stock lasts that long without air.
balance-first-year = In a first year stock half of what the garden carries: { $kg } of fish, { $count } fish at { $weight }.
balance-biofilter-enough = Filter bacteria have { $surface } of wet surface. In { $month } the feed asks for as much as { $litres } of filter medium ({ $medium }) would give; nothing is missing.
balance-biofilter-missing = Filter bacteria have { $surface } of wet surface. In { $month } the feed asks for as much as { $litres } of filter medium ({ $medium }) would give; { $missing } are missing.
balance-flow-measured = Flow round the loop: { $flow } by your measurement, { $turnover } through the fish tank.
balance-flow-box = Flow round the loop: { $flow } by the pump's box, { $turnover } through the fish tank. Nobody has measured it.

change-air = { $amount } more air at the stones: { $name } goes from { $before } to { $after }.
change-flow = { $amount } more flow round the loop: { $name } goes from { $before } to { $after }.
change-biofilter = { $amount } of medium in a separate biofilter: { $name } goes from { $before } to { $after }.
change-bed = { $amount } more bed, planted like the rest: { $name } goes from { $before } to { $after }.
change-tank = { $amount } more tank water: { $name } goes from { $before } to { $after }.
change-settler = A settler of { $amount } before the beds: { $name } goes from { $before } to { $after }.
change-backup-air = { $amount } of backup air that starts by itself and lasts until someone is there: the first limit goes from { $before } to { $after }.
change-fewer-fish = { $amount } fish fewer: the fish want { $after } instead of { $before }.

assumed-line = { $key } = { $value } ({ $reason })
assumed-default = the usual value
assumed-cautious = the cautious choice
assumed-table = from the tables of fish and media
assumed-reckoned = reckoned from what is given
assumed-absent = nothing was said of it
assumed-this-month = first of this month
assumed-year = twelve months
assumed-help = a night at home, a weekend at a school, a day in a community
assumed-room = a heated room
assumed-rest = what is left of the bed
assumed-target = not measured, so the water that the garden aims at

## the command

check-head = { $garden }: the balance for the twelve months from { $start }
check-invented = This garden is invented.
check-table-key = Grams of feed a day, the middle of what is likely. Marked (*): the fish want more than that.
check-water = water ({ $unit })
check-demand = the fish want
check-must = must not be exceeded
check-better = better not exceeded
check-not-counted = { $name } (has a backup)
check-changes = What to change first:
check-findings = Findings, the most urgent first:
check-no-findings = Nothing to act on was found.
check-to-do = Do: { $action }
check-not-to-do = { $avoid }
check-assumed = Not in the garden file, so assumed:
check-nothing-assumed = The garden file says everything; nothing was assumed.
check-cautions = The numbers are ranges, not promises. Ask local offices and licensed trades about fish, water, electricity and buildings.
new-made = Made in { $folder }: { $files }.
new-kept = Already there and left as they were: { $files }.
new-next = Next: aquacalc open { $folder }
problem-not-a-folder = “{ $found }” is not a folder
problem-no-notebooks = “{ $found }” holds no notebooks; make a folder that does with: aquacalc new FOLDER
problem-cannot-write = “{ $found }” cannot be written: { $allowed }
problem-out-kept = “{ $found }” is the current or the home folder, or holds it, and is never replaced; name another folder with --out
problem-out-strange = “{ $found }” holds { $allowed }, which this command did not write or which was changed since; move it away or name another folder with --out

## pages

page-foot = { $garden } - made { $made } - aquacalc { $version }
page-stamp = { $garden } · made { $made } · version { $version } · make again when stock, feed, kit or layout changes
amount-as = { $amount } as { $basis }
kit-step = { $step } ({ $inside } as N)

emergency-title = Emergency
emergency-step-first = First five minutes:
emergency-step-hour = Next hour:
emergency-step-avoid = Don't:
emergency-people = People first
emergency-people-shock = Main switch off before a hand goes into the water. Somebody gets a shock: switch off, then touch.
emergency-people-child = Child in the water: out, shout for help, emergency call.
emergency-people-splash = Splash in eye or on skin: rinse 20 minutes under the tap, then poison advice.
emergency-call-ambulance = Ambulance
emergency-call-poison = Poison advice
emergency-call = Call
emergency-call-keyholder = Keyholder
emergency-call-vet = Fish vet
emergency-call-electricity = Electricity
emergency-call-water = Water company
emergency-power-time = Power cut: you have
emergency-power-danger = Freshly fed fish in { $month } reach critical oxygen in { $danger }: count on half of the short end.
emergency-power = Power cut
emergency-power-first = Battery air on. None: scoop water and pour it back from high, without a break. No feed.
emergency-power-hour = Call the keyholder. Power back: look at pump, air stones, siphons.
emergency-power-avoid = No feed until 12 hours after. No generator indoors.
emergency-gasping = Fish gasp at the surface
emergency-gasping-first = Turn on all that splashes or bubbles. Pump and air running? No feed.
emergency-gasping-hour = Measure oxygen, then ammonia and nitrite. Change a quarter, treated, as warm as the tank.
emergency-gasping-avoid = No testing before you add air. No medicine.
emergency-leak = Leak or overflow
emergency-leak-first = Wet plugs: main switch off. Pump off, battery air on. Close the tank's drain: fish keep their water.
emergency-leak-hour = Find it, by-pass or patch it. Refill with treated water only.
emergency-leak-avoid = Nobody stands in water near a plug. No hose unwatched.
emergency-chlorine = Untreated tap water ran in
emergency-chlorine-first = Close the tap, all air on.
emergency-chlorine-dose = { $name }: { $dose } for each { $volume } that ran in.
emergency-chlorine-none = Get sodium thiosulfate or ascorbate now.
emergency-chlorine-hour = Test total chlorine, then ammonia. More only after a test that still shows chlorine.
emergency-chlorine-avoid = No waiting for it to leave: chloramine stays.
emergency-ammonia = Ammonia or nitrite high
emergency-ammonia-first = No feed, all air on. Test pH, read the ammonia table.
emergency-ammonia-hour = Change a quarter to a half, treated, pH no higher than the tank's. Nitrite: chloride by the dose table.
emergency-ammonia-avoid = No raising of the pH. No washing of the filter.
emergency-ph = pH at 6 or under
emergency-ph-first = Test ammonia. No feed.
emergency-ph-hour = Ammonia at its lowest steps: one portion of base by the dose table, then test. Ammonia higher: change water first.
emergency-ph-avoid = No more than 0.3 of pH a day. No lime or lye into the tank.
emergency-heat-from = Heat: water above { $limit }
emergency-heat-first = Shade, all air on, no feed.
emergency-heat-hour = Frozen water in closed bottles, night air over the beds; { $rate } an hour at most. Oxygen before dawn.
emergency-heat-avoid = No untreated cold water. No netting of fish.
emergency-cold-from = Cold: no feed under { $limit }, emergency from { $lethal }
emergency-cold-first = Stop flooding beds at night, cover tank and sump, keep a little air on.
emergency-cold-hour = Warm slowly, { $rate } an hour at most. Ice: melt a hole with a pot of hot water.
emergency-cold-avoid = No breaking of ice by blows. No heater without a water-level switch.

dose-title = Doses for this garden
dose-made-for = Made for { $volume } of circulating water and, against chlorine, for each { $new } of new water. Void if the layout changed.
dose-none = No product is described. Write name, strength and the weight of one level spoon into the garden file, then make this page again.
dose-head-product = On the shelf
dose-head-step = One step
dose-head-grams = Dose
dose-head-day = Most for one day
dose-base = alkalinity up by { $step }
dose-chlorine = { $volume } new water at { $chlorine } chlorine
dose-chloride = nitrite, for each { $nitrite }
dose-element = { $element } up by { $rise }
dose-no-end = as much as new water asks for
dose-spoons = { $grams } ({ $spoons } spoons)
dose-how = How
dose-rule-test = Test first. One step for each step under the target, no more than the most for one day, each portion only after a new test.
dose-rule-mix = Dissolve it in a bucket of tank water. Pour it slowly into the sump or where the flow is strong, over an hour.
dose-rule-ammonia = Before anything that raises the pH: test ammonia and read the ammonia table at the pH after the dose.
dose-rule-caustic = { $names }: adults only, goggles and gloves. Solid into cold water, never water onto the solid, at most 100 g a litre, in four portions. Splash: rinse for 20 minutes, call poison advice.
dose-rule-chlorine = The reagent goes into the water before the tap water does. Ask the water company every year what it adds.
dose-never = Never
dose-never-date = by date, by pH alone, or twice because nothing happened yet.
dose-never-mix = acid with bleach or base; any chemical dry into the fish tank; medicine into this loop.
dose-left-out = { $names }: not for the loop, so not in this table.
dose-left-out-school = { $names }: not in this table. In a school only carbonates and bicarbonates, by an adult.
emergency-stamp = { $garden }, made { $made }, version { $version }. Make again when stock, feed, kit or layout changes.
ammonia-title = Ammonia: what the reading means
ammonia-as-n = Left: ammonia (TAN) as your kit shows it. With a plus: the kit ends there.
ammonia-as-other = Left: ammonia as your kit shows it, { $basis }. With a plus: the kit ends there.
ammonia-no-kit = No kit is described. Left: round values of ammonia (TAN), mg/L as N. Across: pH.
ammonia-no-basis = What the kit counts is not known: ask its leaflet before you read this. Left: round values, mg/L as N. Across: pH.
ammonia-water-coolest = Coolest water, { $water }
ammonia-water-middle = Middle of the year, { $water }
ammonia-water-warmest = Warmest water, { $water }
ammonia-between = Between two steps read the worse one; at the kit's end dilute one to five. Fish gasp or lie down: emergency.
ammonia-act = Act today, emergency: no feed, all air on, change a quarter or more, treated, pH no higher. Never raise the pH.

routine-title = Tests: when, and from where to act
routine-daily = Every day
routine-daily-what = Pump, flow, water level, leaks, temperature, how the fish look and eat, dead fish out.
routine-weekly = Every week, before feeding
routine-weekly-what = pH, ammonia, nitrite, nitrate, alkalinity. Leaves, roots, pipes, pests. In a new loop ammonia and nitrite every second day.
routine-monthly = Every month
routine-monthly-what = Weigh ten fish. Clean filters in tank water. Press the test button of the power breaker. Pull the plug and see the backup start.
routine-limits = From these readings on, as your kit shows them
routine-head = Reading
routine-below = { $limit } or less
routine-above = { $limit } or more
routine-no-line = -

tick-title = 28 days
tick-how = Tick what is right; write what is not. From ____________ to ____________
tick-day = Day
tick-pump = Pump, air
tick-level = Level
tick-fish = Fish well
tick-temperature = Water
tick-feed = Feed
tick-dead = Dead
tick-note = Note, name

record-title = Weekly tests
record-how = Morning, before feeding. Write what the kit shows, with "under" or "over" at its ends. Leave gaps empty.
record-date = Date
record-ph = pH
record-tan = TAN
record-nitrite = Nitrite
record-nitrate = Nitrate
record-alkalinity = KH
record-oxygen = Oxygen
record-as = as { $basis }
record-as-blank = as ____
record-did = Did, why
record-fish = Fish weighed
record-count = How many
record-weight = Together
record-dead = Dead since
record-harvest = Picked, spent, earned
record-what = What
record-kg = Weight
record-money = Money
ammonia-kit = kit
ammonia-n = as N
ammonia-and-more = { $step }+
routine-by-table = ammonia table
routine-note-pair = Ammonia depends on pH and warmth: read the ammonia table as well; the stricter counts.
routine-note-oxygen = Oxygen is lowest before dawn and some hours after a meal: measure then.
routine-note-repeat = Odd reading: test again before you dose. At the kit's end, too old, or without its unit a reading is not known.
routine-note-past-end = { $mark } past the end of this kit. Ammonia, nitrite, nitrate: dilute the sample one to five or ten. pH: take another kit.
ammonia-ph = pH { $step }
holiday-title = Looking after the garden
holiday-away = Away { $start } to { $end }. Visits: { $who }
holiday-each-visit = Each visit, before anything else
holiday-visit-look = Look: all fish upright and moving, none at the surface. Count dead ones, take them out with the net.
holiday-visit-listen = Listen: pump and air pump run, water falls into the tank, nothing drips.
holiday-visit-level = Level: the sump stands between its marks. Below: top up slowly.
holiday-visit-feed = Feed: one bag a day, in the morning, left-overs out after 30 minutes.
holiday-bag = { $month } { $grams }
holiday-doubt = If in doubt, don't feed.
holiday-top-up = Top up
holiday-top-up-plain = To the line, slowly, and stay there until the tap is closed.
holiday-top-up-barrel = Only from the barrel of treated water, to the line. Never straight from the tap.
holiday-top-up-dose = Never straight from the tap. For each { $bucket } bucket first { $name }, { $dose }, then the water; stir, pour slowly.
holiday-never = Never
holiday-never-feed = a second bag, feed from a hand, feed when fish gasp, when the power was out, or when the water is cloudy.
holiday-never-doses = chemicals, salt, medicine: call.
holiday-never-clean = filters, beds or stones washed. A hose left running.
holiday-never-hands = hands in the water while the main switch is on. Children alone at the tank.
holiday-where = Where it is
holiday-blank-switch = Main switch
holiday-blank-valve = Water valve
holiday-blank-water = Treated water
holiday-blank-air = Battery air
holiday-blank-net = Net, bucket
holiday-blank-bags = Feed bags
holiday-call = Call, in this order, after the emergency card
holiday-blank-me = Me
holiday-blank-second = Second
holiday-blank-vet = Fish vet
holiday-blank-electricity = Electrician

hygiene-title = Clean hands, clean food
hygiene-hands = Hands
hygiene-hands-1 = Wash with soap before picking and after fish, filters or droppings. Fish first or plants first: wash between.
hygiene-hands-2 = Cover cuts, wear gloves in the water. A sore that stays after a cut: see a doctor and say that you keep fish.
hygiene-hands-3 = No siphoning by mouth. Nobody who is ill with the stomach picks or handles.
hygiene-plants = Plants
hygiene-plants-1 = No loop water on what is eaten: no overhead watering, leaves that lay in the water go to the compost.
hygiene-plants-2 = Pick into clean boxes, rinse in drinking water, chill within two hours.
hygiene-plants-3 = No sprouts, and no roots for eating raw, in loop water.
hygiene-plants-4 = Small children, the old, the pregnant and the ill: cook it.
hygiene-fish = Fish to eat
hygiene-fish-1 = None after a medicine or a poisoning, none that died by itself.
hygiene-fish-2 = Gut, rinse and cool below { $cold } within an hour; eat within two to three days.
hygiene-fish-3 = Cook through, { $core } in the middle. Raw fish is not advised.
hygiene-keep-out = Keep out
hygiene-keep-out-1 = Birds, rats, cats, dogs: cover tanks, sump and gutters. No manure of warm-blooded animals.
hygiene-keep-out-2 = Own nets and buckets; new fish apart for some weeks; no pond fish or pond plants.
hygiene-keep-out-3 = Sprays of all kinds, soap and oil, over or near the water.
hygiene-own = This garden's own fish and crops
hygiene-caution = { $names }: { $text }.
hygiene-law = Selling, school kitchens and tests of water: ask the food authority. This card gives no clearance.
dose-spoon = { $grams } ({ $spoons } spoon)
plan-title = Season plan: { $garden }
plan-year = The year from { $start } to { $end }.
plan-invented = This garden is invented.
plan-balances = Does it balance?
plan-change-first = What to change first
plan-contents = In this plan
plan-contents-folder = For the folder: does it balance, the year in figures, the loop, what the garden is and what had to be assumed, findings, wishes, shopping, local rules, cautions, limits, sources.
plan-contents-wall = For the wall beside the tank, one sheet each: emergency card (fold it in the middle), looking after the garden, clean hands, ammonia table, tests, doses, 28 days to tick, weekly tests.

facts-title = What the garden is
facts-none = none described
facts-place = Place
facts-cover-open = open air
facts-cover-shade = shade cloth
facts-cover-greenhouse = greenhouse
facts-cover-indoors = indoors
facts-setting-home = home
facts-setting-school = school
facts-setting-community = community garden
facts-help = Until someone can be there
facts-litres = Water
facts-litres-parts = fish tank { $tanks }, beds { $beds }, sump { $sump }, pipes and filters { $rest }; circulating { $whole }
facts-beds = Beds
facts-bed = { $name }: { $area }, { $depth } of { $medium }
facts-bed-media = medium
facts-bed-raft = water under a raft
facts-bed-channel = water in a channel
facts-fish = Fish
facts-fish-batch = { $name }: { $count } { $species } of { $weight } on { $stocked }, to { $final }
facts-crops = Crops
facts-feed = Feed
facts-feed-bag = { $name }, { $protein } protein
facts-machines = Pumps and air
facts-pump = { $name }: { $flow } by its box, lifts { $lift }, { $power }
facts-air = air { $flow } by its box, { $power }
facts-backup = Against a power cut
facts-backup-none = nothing named
facts-backup-battery-air = air from a battery
facts-backup-generator = generator
facts-backup-oxygen = oxygen bottle
facts-top-up = Top-up water
facts-top-up-water = { $source }, { $disinfectant }, at most { $chlorine } of chlorine, alkalinity { $alkalinity }
facts-source-mains = mains
facts-source-well = well
facts-source-rain = rain
facts-source-mixed = mixed
facts-disinfectant-none = no chlorine
facts-disinfectant-chlorine = chlorine
facts-disinfectant-chloramine = chloramine
facts-disinfectant-not-known = chlorine or chloramine not known
facts-kits = Test kits
facts-assumed = What was assumed
facts-assumed-why = The garden file does not say these, so the plan took them. Write your own into the file and make the plan again.

loop-title = The loop
loop-terms = TAN is total ammonia. All nitrogen (N) is counted as N.

year-title = The balance through the year
year-terms = All is told in grams of fish feed a day: what the fish want beside what each part can carry. A band holds the middle eight in ten of { $tries } tries, the line is their middle.
year-feed = The same in figures: grams of feed a day, middle values
year-feed-key = In a frame and bold: the fish want more than that. Power cut: the feed of the fish that would last until someone can be there; it counts only while no backup is named.
year-must = The limit that must not be exceeded and is narrowest, month by month
year-better = The limit that had better not be exceeded and is narrowest
year-range-key = Low to high of what is likely. Fish: what may swim there in that month, and how many of them at their final weight.
year-headline-over = First limit, { $name }: it carries { $limit } in { $month }, the fish want { $demand }
year-headline-within = No limit is exceeded; nearest is { $name }: { $limit } in { $month }, the fish want { $demand }
year-headline-none = No fish eat in these twelve months
year-month = Month
year-water = Water
year-limit = Limit
year-head-must = { $name } (must)
year-head-better = { $name } (better)
year-head-backed = { $name } (has a backup)
year-no-figure = -
year-in-feed = Feed, { $unit }
year-in-fish = Fish, { $unit }
year-in-count = Fish of { $weight }
year-in-bed = Bed, { $unit }

findings-title = Findings, the most urgent first
finding-do = Do:

wishes-title = What the wishes would take
wishes-none = No wishes are written down. Put heads a week and fish a year into the garden file to see the beds, tanks and feed that they take.
wishes-crop = { $heads } of { $crop }: { $area } of bed with { $places } places, { $seeds } seeds and { $transplants } transplants a week. By the handbook's rule that bed takes { $rule } of feed, by its nitrogen { $nitrogen }.
wishes-fish = { $count } { $species } a year: { $days } from stocking to final weight in this garden's water, { $stock } in each batch, { $mean } of feed on average and { $peak } at most, { $tank } of tank.
wishes-has = The garden has { $beds } of bed and { $tanks } of fish tank.

shopping-title = Shopping and spares
shopping-how = What to have in the house before something breaks. Tick what is there.
shopping-pump = A second water pump: { $flow } and { $head } on its box, or more
shopping-backup = Air that starts by itself: { $air }, battery { $battery }
shopping-medium = Filter medium: { $litres } of { $medium } in a separate biofilter
shopping-dechlorinator = { $name }: { $grams } for { $volume } of tap water, as much as the whole loop holds
shopping-dechlorinator-none = Sodium thiosulfate or ascorbate, and scales that weigh a gram
shopping-tests = Tests that are missing: { $names }
shopping-air = Spare air stones, hose, one-way valves
shopping-seals = Hose clamps, tank patch, end caps, a length of pipe
shopping-thermometer = Two thermometers, a measuring bucket, scales
shopping-net = Knotless net, bucket with a lid
shopping-goggles = Goggles, gloves, running water near the shelf
shopping-breaker = Power breaker for outdoor use, sockets off the floor, drip loops in all leads
shopping-feed = Feed for the year: { $feed }. Buy for three months at most; keep it dry, cool and closed.

rules-title = Local rules to ask
rules-how = The workbook knows no law. Ask, and write down who answered, when and what.
rules-head-question = Question
rules-head-office = Office
rules-head-asked = Asked on
rules-head-answer = Answer
rules-fish = May { $species } be kept, bought and moved here? Which permit?
rules-fish-office = fisheries or wildlife office
rules-release = How are dead fish, surplus fish, plants and old water to be got rid of?
rules-release-office = environment or water office
rules-power = Who may wire sockets and breakers near water?
rules-power-office = licensed electrician
rules-backflow = What has to keep loop water out of the mains (air gap, valve)?
rules-backflow-office = water company, plumber
rules-rain = May roof water be gathered and used for food plants?
rules-rain-office = water office
rules-structure = Does the building need a permit, does it bear the load?
rules-structure-office = building office, structural engineer
rules-pool = Does open water need a fence, lid or cover?
rules-pool-office = building or safety office
rules-school = Who has to agree to fish, chemicals and food in the school?
rules-school-office = school authority
rules-selling = What is needed to give away or sell plants and fish?
rules-selling-office = food authority
rules-killing = Which ways of killing fish does the law name, who may do it?
rules-killing-office = animal-welfare office, veterinarian

care-title = Where somebody can get hurt
care-first = The numbers of this plan are estimates. Local codes, licensed trades, doctors and veterinarians come first; where this is wrong, somebody or every fish gets hurt: check with them.
care-power = Power.
care-power-what = Breaker for outdoor use, drip loops, plugs off the floor, main switch off before hands go into the water. Fixed wiring by a licensed electrician.
care-water = Open water.
care-water-what = A small child drowns in a few centimetres: lid, mesh or fence over tank, sump and buckets.
care-load = Weight.
care-load-what = Water weighs a kilogram a litre, wet stone more. Roofs, balconies, upper floors, tall stands: a structural engineer decides.
care-chemicals = Chemicals.
care-chemicals-what = Goggles, gloves, solid into water, never mixed, locked away. The label and its safety sheet rule.
care-tap = Tap water.
care-tap-what = No hose end under water: an air gap keeps the loop out of the mains. Chlorine and chloramine kill fish: treat first.
care-food = Food.
care-food-what = No loop water on what is eaten, washed hands, cooked fish. For sale and school kitchens the food authority rules.
care-ill = Wounds.
care-ill-what = Cover cuts; a sore that does not heal: see a doctor and mention the fish.
care-medicine = Fish medicine.
care-medicine-what = None in this loop. A veterinarian decides, in a separate tank, with the waiting times of the law.
care-fish = Fish.
care-fish-what = Room, oxygen and company as the species needs; killing learned from a trained person; never released.
care-law = Law.
care-law-what = Species, permits, rain and waste water: see the page of local rules.
care-fire = Fire.
care-fire-what = No generator indoors, fuse at the battery, lead-acid batteries in moving air.

limits-title = What this plan does not know
limits-band = Ranges hold the middle eight in ten of the tries: one in five lies outside.
limits-oxygen = Without an oxygen meter the oxygen limit rests on the labels of pump and air pump.
limits-year = Months are averages; one hot week is worse than its month.
limits-growth = Growth and appetite are those of healthy fish of the species; weigh ten every month and correct.
limits-plants = What plants take up is counted by nitrogen; the handbook's rule says three to four times as much feed. Both are shown.
limits-kit = A test kit is right within about a step; a kit's end proves nothing beyond it.
limits-map = Day by day it is not simulated here: the balance looks at each month by itself.

mark-read = { $count } read in the source
mark-read-2nd = { $count } read in a text that quotes it
mark-computed = { $count } computed
mark-memory = { $count } from memory
mark-practice = { $count } common practice without a source
sources-title = Sources
sources-known = The balance rests on { $total } uncertain values: { $known }. Texts behind them, behind the fish, crops and limits of this garden, and behind its findings:
season-computing = Working out the plan of { $garden } ...
season-printing = Making the pages ...
season-failed = The run stopped at "{ $heading }": { $reason }. The notebook as far as it ran is { $notebook }
season-made = The plan is in { $folder }: { $files }.
season-print-yourself = Nothing here can make a PDF: open { $page } in a browser and print it.
sources-parted = { "" } · { "" }
holiday-bags = Bags: { $bags }.
holiday-no-feed = No feed in { $months }.
holiday-top-up-solution = Never straight from the tap. Each morning dissolve { $name }, { $dose }, in a { $bottle } bottle. Into each { $bucket } bucket first { $part } of that, then the water; stir, pour slowly.

## charts

chart-axis-feed = Feed ({ $unit })
chart-axis-water = Water temperature ({ $unit })
chart-demand = the fish want
chart-before = before
chart-after = after
chart-water = the water
chart-balance-key = Grey band and thick line: what the fish want, and its likely range. Solid lines with filled marks must not be exceeded; broken lines with open marks had better not be.
chart-beyond = Above the picture all year: { $names }.
chart-spans-key = In { $month }. A bar runs from the low to the high end, the tick is the middle. Solid bars must not be exceeded; open bars had better not be.
chart-before-after-key = In { $month }. Open bar: before. Solid bar: after. The tick is the middle.
chart-changed = { $before } to { $after } { $unit }
chart-unchanged = { $after } { $unit }, as before
chart-lifted = { $before } { $unit } to no limit
chart-new-limit = no limit to { $after } { $unit }
chart-no-feed-below = no feed below this
chart-no-feed-above = no feed above this
chart-best-low = grows best from here
chart-best-high = grows best up to here
chart-lethal-low = cold kills here
chart-lethal-high = heat kills here
chart-alt-limit = { $name } { $amount } in { $month }
chart-alt-span = { $name } { $amount }
chart-alt-change = { $name } from { $before } to { $after }
chart-alt-balance = Feed per day through the year. The fish want most in { $month }: { $wanted }. The limits where they are lowest: { $limits }.
chart-alt-limits = In { $month } the fish want { $wanted }. What each part can carry: { $limits }.
chart-alt-before-after = In { $month } the fish want { $before } before the change and { $after } after it. The limits: { $limits }.
chart-alt-water = The water is coldest in { $cold_month }, { $cold }, and warmest in { $warm_month }, { $warm }. { $species } grows best at { $best }.

## drawings

drawing-loop-title = The loop in { $month }, the month in which the fish want most
drawing-loop-key = Grey arrows carry nitrogen, as wide as their grams a day. Thin line: the water. Broken line: oxygen.
drawing-tanks = fish tanks
drawing-fish = { $count } fish
drawing-feed = feed { $feed }
drawing-in-it = nitrogen in it { $n }
drawing-oxygen = oxygen used { $oxygen } g/h
drawing-ammonia = ammonia
drawing-nitrate = nitrate
drawing-gas = gone as gas
drawing-uptake = into the plants
drawing-kept = in fish, dung, lost feed
drawing-left = stays in the water
drawing-given = the water gives
drawing-bacteria = filter bacteria
drawing-wet-surface = of wet surface,
drawing-in-beds = on the beds
drawing-in-beds-and-filter = on beds and biofilter
drawing-plants = plants
drawing-more = and { $count } more
drawing-sump = sump { $volume }
drawing-pump = pump { $flow }
drawing-loop-alt = The loop in { $month }. Feed { $feed } holds { $whole } of nitrogen: { $kept } stay in fish, dung and lost feed, { $ammonia } become ammonia. Bacteria turn it into nitrate; { $gas } leave as gas and { $uptake } go into the plants. The loop uses { $oxygen } g/h of oxygen. Fish tanks { $tanks }, beds { $beds }, sump { $sump }; the pump moves { $flow }.

## panels

headline-over = First limit: { $name }. In { $month } it carries { $limit }, and the fish want { $demand }
headline-within = All that must hold does. Nearest: { $name }, { $limit } in { $month }, and the fish want { $demand }

panel-unit = in
panel-yes = yes
panel-no = no
panel-stale = One entry above cannot be used. What stands below is the answer from before.
panel-invented = This garden is invented.
panel-back = Back to the garden as it is
panel-species = Fish
panel-crop = Crop
panel-altitude = Height above the sea
panel-water-c = Water temperature
panel-water-mean = Mean water temperature
panel-tank-water = Water in the fish tanks
panel-fish-kg = Fish in all
panel-fish-weight = One fish weighs
panel-fish-count = Number of fish
panel-final-weight = Final weight of one fish
panel-help = Time until someone can be there
panel-protein = Protein of the feed
panel-beds = Area of the beds
panel-flow = Flow round the loop
panel-air = Air pump
panel-biofilter = Medium in a separate filter
panel-backup = Air from a battery in a power cut
panel-change-title = What the change does
panel-heads = Heads a week
panel-fish-year = Fish a year
panel-month = Month
panel-month-nearest = the nearest to its limit

panel-shape = Shape
panel-shape-box = straight walls
panel-shape-round = round
panel-shape-known = the volume is known
panel-length = Length inside
panel-width = Width inside
panel-diameter = Diameter inside
panel-depth = Depth of the water
panel-volume = Volume
panel-volume-unit = Unit
panel-volume-answer = That is { $volume } of water
panel-volume-hint = Measure inside and up to the water line. A bed of gravel holds less than half of its own volume in water. A US gallon and an imperial gallon differ by a fifth.

panel-oxygen-reading = Oxygen reading, if there is one
panel-oxygen-answer = At { $temperature } and { $altitude } above the sea, water holds { $saturation } of oxygen and no more
panel-oxygen-needs = { $species }: full appetite from { $full } on; { $critical } is the critical oxygen, below which nothing else matters.
panel-oxygen-level = The reading of { $reading } is { $percent } % of what the water can hold. For this fish: { $level }.

panel-power-answer = Act within { $response }: get air into the water
panel-power-time = Freshly fed fish would be at their critical oxygen after { $danger }; half of the short end is the time to act in.
panel-power-unaided = Without any air, { $kg } of fish would last the { $help } until someone can be there.
panel-power-gap = To hold this stock until then takes { $air } of air at the stones and a battery of { $battery }.
panel-power-now = Switch the mains off at its main switch before hands go into the water. Do not feed. Splash, pour water from high up with a clean bucket, start any battery air.

panel-wishes-none = Wish for heads a week, for fish a year, or for both
panel-wishes-crop = { $area } of bed
panel-wishes-fish = { $tank } of fish tank
panel-wishes-both = { $crop } and { $fish }
panel-wishes-crop-more = { $crop }: each week sow { $seeds } seeds and plant { $transplants }; { $places } places stand in the bed. The handbook feeds such a bed { $rule }; the nitrogen that the plants take up comes from { $balance }.
panel-wishes-fish-more = { $species }: stock { $stock } a year, grown in { $days }. They want { $mean } of feed on average and { $peak } at most.
panel-wishes-fish-never = { $species } does not grow at this water temperature.
panel-wishes-has = The garden has { $beds } of bed and { $tanks } of fish tank.

panel-loop-answer = { $garden }: in { $month } the fish want { $feed } of feed, which becomes { $ammonia } of ammonia

panel-garden-name = Name of the garden
panel-latitude = Latitude (a minus sign means south)
panel-cover = What stands over it
panel-cover-open = open sky
panel-cover-shade = shade
panel-cover-greenhouse = greenhouse
panel-cover-indoors = a room
panel-air-max = Daily highs outdoors, January to December
panel-air-min = Daily lows outdoors, January to December
panel-tank-of = Water in { $name }
panel-bed-of = Area of { $name }
panel-sump = Water in the sump
panel-pump-flow = Flow on the box of { $name }
panel-pump-box = Largest flow on the pump's box
panel-warm-max = Warmest month: mean daily high
panel-warm-min = Warmest month: mean daily low
panel-cold-max = Coldest month: mean daily high
panel-cold-min = Coldest month: mean daily low
panel-bed-kind = Kind of bed
panel-bed-media = gravel or the like
panel-bed-raft = rafts on deep water
panel-bed-channel = channels with a film of water
panel-species-of = Fish of { $name }
panel-form-new = You look at a demo garden, which stays as it is. The fields begin with a small starter garden: put your own numbers in their place, with any unit, and write them into a { $file } beside this notebook.
panel-form-own = These are the numbers of your { $file }. Everything else in that file stays as you typed it.
panel-form-write = Write the garden file
panel-form-undo = Take the last change back
panel-form-not-yet = Nothing is written yet.
panel-form-refused = One entry above cannot be used. Nothing is written.
panel-form-written = Written into { $file }. Everything below follows it.
panel-form-undone = The garden is as it was before.
