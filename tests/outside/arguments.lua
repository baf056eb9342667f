-- The arguments of LaTeX commands that pandoc does not know, read on; mathematics left out.
-- What pandoc knows for no prose, such as labels, it drops by itself. Commands named for the index print nothing,
-- drawings are no prose, and for a cross-reference pandoc writes the label, which is not what is printed.

local function arguments(source)
  if source:match("^%s*\\[iI]ndex") then return "" end
  local found = {}
  for argument in source:gmatch("%b{}") do
    table.insert(found, argument:sub(2, -2))
  end
  return table.concat(found, " ")
end

local depth = 0
local inner

local function read(source)
  if depth > 20 then return {} end
  depth = depth + 1
  local done, document = pcall(pandoc.read, source, "latex+raw_tex")
  if not done then
    -- A command that stands alone here, such as \and, stops pandoc; it prints nothing.
    done, document = pcall(pandoc.read, source:gsub("\\%a+", " "), "latex+raw_tex")
  end
  local blocks = done and document.blocks or {}
  blocks = pandoc.walk_block(pandoc.Div(blocks), inner).content
  depth = depth - 1
  return blocks
end

inner = {
  Math = function() return {} end,
  Link = function(link)
    if link.attributes["reference"] then return {} end
  end,
  RawInline = function(raw)
    if raw.format ~= "latex" and raw.format ~= "tex" then return nil end
    return pandoc.utils.blocks_to_inlines(read(arguments(raw.text)), { pandoc.Space() })
  end,
  RawBlock = function(raw)
    if raw.format ~= "latex" and raw.format ~= "tex" then return nil end
    local inside = raw.text:match("^%s*\\begin%b{}(.*)\\end%b{}%s*$")
    if raw.text:match("^%s*\\begin{%a*picture}") then return {} end
    if inside then return read(inside) end
    return read(arguments(raw.text))
  end,
}

-- Who wrote it and when is left out on purpose.
local function Meta(meta)
  meta.author, meta.date = nil, nil
  return meta
end

return { inner, { Meta = Meta } }
