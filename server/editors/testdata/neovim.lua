-- Opens a shot with the snippet that people install and writes what Neovim
-- shows to the file $RESULT.

local here = vim.fn.fnamemodify(debug.getinfo(1).source:sub(2), ":p:h")
package.path = here .. "/../neovim/?.lua;" .. package.path
local result = {}

require("curvelint").setup({ cmd = { vim.env.CURVELINT, "serve" } })

local severities = { "error", "warning", "information", "hint" }

local function notes()
  local list = {}
  for _, d in ipairs(vim.diagnostic.get(0)) do
    table.insert(list, {
      line = d.lnum + 1,
      severity = severities[d.severity],
      code = d.code or d.user_data.lsp.code,
      message = d.message,
    })
  end
  return list
end

local function ask(method, params)
  local answers, err = vim.lsp.buf_request_sync(0, method, params, 10000)
  if not answers then
    error(method .. ": " .. tostring(err))
  end
  for _, a in pairs(answers) do
    if a.error then
      error(method .. ": " .. a.error.message)
    end
    return a.result
  end
end

local function here_params()
  return vim.lsp.util.make_position_params(0, "utf-16")
end

local function collect(symbols, names)
  for _, s in ipairs(symbols) do
    table.insert(names, s.name)
    collect(s.children or {}, names)
  end
  return names
end

-- fix applies "Ease this run" at the even spacing and waits for the note to go.
local function fix()
  local at
  for _, d in ipairs(vim.diagnostic.get(0)) do
    if (d.code or d.user_data.lsp.code) == "even-spacing" then
      at = d
    end
  end
  vim.api.nvim_win_set_cursor(0, { at.lnum + 1, at.col })
  local params = vim.lsp.util.make_range_params(0, "utf-16")
  params.context = { diagnostics = {} }
  for _, action in ipairs(ask("textDocument/codeAction", params)) do
    if action.title:find("^Ease this run") then
      result.fix = action.title
      if not action.edit then
        action = ask("codeAction/resolve", action)
      end
      vim.lsp.util.apply_workspace_edit(action.edit, "utf-16")
      break
    end
  end
  vim.wait(10000, function()
    for _, d in ipairs(vim.diagnostic.get(0)) do
      if (d.code or d.user_data.lsp.code) == "even-spacing" then
        return false
      end
    end
    return true
  end, 20)
  result.after = notes()
  result.text = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n") .. "\n"
end

local function run()
  assert(vim.wait(20000, function() return #vim.diagnostic.get(0) > 0 end, 20), "no diagnostics came")
  result.notes = notes()
  for _, d in ipairs(vim.diagnostic.get(0)) do
    if (d.code or d.user_data.lsp.code) == "even-spacing" then
      vim.api.nvim_win_set_cursor(0, { d.lnum + 1, d.col })
    end
  end
  local hover = ask("textDocument/hover", here_params())
  result.hover = table.concat(vim.lsp.util.convert_input_to_markdown_lines(hover.contents), "\n")
  local doc = { textDocument = vim.lsp.util.make_text_document_params() }
  result.parts = collect(ask("textDocument/documentSymbol", doc), {})
  vim.cmd("Frame 1040")
  vim.wait(5000, function() return vim.api.nvim_get_current_line():find("1040:") ~= nil end, 20)
  result.jumped = vim.api.nvim_get_current_line()
  fix()
  vim.cmd("silent write")
  vim.cmd("edit " .. vim.fn.fnamemodify(vim.env.SHOT, ":h") .. "/deckhand_polish.usda")
  vim.wait(2000, function() return #vim.lsp.buf_get_clients(0) > 0 end, 20)
  vim.cmd("Compare")
  vim.wait(10000, function() return vim.bo.buftype == "nofile" and vim.fn.line("$") > 3 end, 20)
  result.compared = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n")
  result.messages = vim.fn.execute("messages")
end

vim.api.nvim_create_autocmd("VimEnter", {
  nested = true, -- so that opening the next pass starts what opening a file does
  callback = function()
    local ok, err = pcall(run)
    if not ok then
      result.error = tostring(err)
    end
    vim.fn.writefile({ vim.fn.json_encode(result) }, vim.env.RESULT)
    vim.cmd("qall!")
  end,
})
