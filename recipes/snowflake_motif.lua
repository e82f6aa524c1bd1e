-- Six arms with branches about a larger stone; one alone, or repeated along a line.
local shares, branching = { 0.5, 0.78 }, 0.75 -- where the branches begin, and how far they go to the tip

-- An arm holds two stones, the outer branch one, and each a gap.
local function check_size(given)
  local arm = given.centre.diameter_mm / 2 + given.gap + given.arm.diameter_mm + math.max(given.arm.diameter_mm, given.gap)
  local branch = math.max(given.branch.diameter_mm, given.gap) / ((1 - shares[2]) * branching)
  local least = math.ceil(2 * math.max(arm, branch))
  if given.size >= least then return end
  error(string.format("size must be at least %d mm for these stones and this gap, not %g mm; for example size = "
    .. "\"%d mm\"", least, given.size, least))
end

local function arm_of(given)
  local half = given.size / 2
  local start = (given.centre.diameter_mm + given.arm.diameter_mm) / 2 + given.gap
  local reach = half - given.arm.diameter_mm / 2
  local arm = run { along = line(reach - start):moved(start, 0), stones = { given.arm }, gap = given.gap }
  for _, share in ipairs(shares) do
    local long = half * (1 - share) * branching
    local branch = line(long):turned(60):moved(half * share, 0)
    arm = arm + run { along = branch, stones = { given.branch }, gap = given.gap }:clear_of(arm, given.gap / 2)
  end
  return arm
end

return recipe {
  format = 1, name = "snowflake motif",
  about = "Snowflakes of six arms, alone or along a line; keep seat, grips and blades clear.",
  takes = {
    { "line", "path", optional = true, about = "where they are repeated; without it one is placed" },
    { "size", "length", default = "6 cm", from = "2 cm", to = "50 cm", about = "from tip to tip" },
    { "centre", "stone", default = "ss30 clear" },
    { "arm", "stone", default = "ss16 clear" },
    { "branch", "stone", default = "ss9 clear" },
    { "gap", "length", default = "0.8 mm", from = "0 mm", to = "10 mm", about = "clear fabric between stones" },
    { "apart", "length", default = "15 mm", from = "0 mm", to = "1 m", about = "between two snowflakes" },
  },
  place = function (given)
    check_size(given)
    local arm = arm_of(given)
    arm = arm + arm:mirrored(0):turned(180):clear_of(arm, given.gap / 2)
    local flake = set { stones = { given.centre }, at = { { 0, 0 } } }
    for turn = 0, 300, 60 do flake = flake + arm:turned(turn):clear_of(flake, given.gap / 2) end
    if not given.line then return flake end
    return motif { placement = flake, along = given.line, gap = given.apart }
  end,
}
