-- Rays from a middle stone, large near it and small at the tips; every other ray is shorter.
local short = 0.65 -- of a long ray

-- Each third of a short ray holds its stone, and a gap.
local function check_size(given)
  local stone = math.max(given.large.diameter_mm, given.medium.diameter_mm, given.small.diameter_mm, given.gap)
  local least = math.ceil(2 * (given.centre.diameter_mm / 2 + given.gap + 3 * stone) / short)
  if given.size >= least then return end
  error(string.format("size must be at least %d mm for these stones and this gap, not %g mm; for example size = "
    .. "\"%d mm\"", least, given.size, least))
end

return recipe {
  format = 1, name = "starburst",
  about = "Rays from a middle stone, smaller to the tips; keep seat, grips and blades clear.",
  takes = {
    { "size", "length", default = "16 cm", from = "4 cm", to = "1 m", about = "from tip to tip of the long rays" },
    { "rays", "integer", default = 12, from = 3, to = 48 },
    { "centre", "stone", default = "ss40 clear" },
    { "large", "stone", default = "ss20 clear" },
    { "medium", "stone", default = "ss16 clear" },
    { "small", "stone", default = "ss9 clear" },
    { "gap", "length", default = "1 mm", from = "0 mm", to = "20 mm", about = "clear fabric between stones" },
  },
  place = function (given)
    check_size(given)
    local burst = set { stones = { given.centre }, at = { { 0, 0 } } }
    local start = given.centre.diameter_mm / 2 + given.gap
    for ray = 0, given.rays - 1 do
      local reach = given.size / 2 * (ray % 2 == 0 and 1 or short)
      local third = (reach - start) / 3
      for i, stone in ipairs { given.large, given.medium, given.small } do
        local piece = line(third):moved(start + (i - 1) * third, 0):turned(ray * 360 / given.rays)
        local stones = run { along = piece, stones = { stone }, gap = given.gap, ends = "inside" }
        burst = burst + stones:clear_of(burst, given.gap)
      end
    end
    return burst
  end,
}
