-- Curvelint in Neovim 0.7 and newer. Copy this file to lua/curvelint.lua of your
-- configuration and write in init.lua:
--
--   require("curvelint").setup()
--
-- setup takes { cmd = { "/path/to/curvelint", "serve" } } when the program is
-- not on the PATH, and { settings = { ... } } with the keys of a curvelint.toml.
-- Neovim 0.11 and newer can use lsp/curvelint.lua beside this file instead.

local M = {}

-- File types for the formats that Neovim does not know.
M.filetypes = {
  usda = "usda", usd = "usda", bvh = "bvh", dae = "xml", x3d = "xml",
  x3dv = "vrml", wrl = "vrml", gltf = "json",
}

local clients = {} -- by root folder

-- root returns the folder of the nearest curvelint.toml or .git, else the
-- file's own folder.
local function root(name)
  local dir = vim.fn.fnamemodify(name, ":p:h")
  for _, mark in ipairs({ "curvelint.toml", ".git" }) do
    local found = vim.fn.findfile(mark, dir .. ";")
    if found == "" then
      found = vim.fn.finddir(mark, dir .. ";")
    end
    if found ~= "" then
      return vim.fn.fnamemodify(found, ":p:h" .. (mark == ".git" and ":h" or ""))
    end
  end
  return dir
end

-- client returns the id of the client for a root folder, starting one if need
-- be.
local function client(dir, opts)
  local id = clients[dir]
  if id and vim.lsp.get_client_by_id(id) then
    return id
  end
  id = vim.lsp.start_client({
    name = "curvelint",
    cmd = opts.cmd or { "curvelint", "serve" },
    root_dir = dir,
    workspace_folders = { { uri = vim.uri_from_fname(dir), name = vim.fn.fnamemodify(dir, ":t") } },
    init_options = { settings = opts.settings },
    on_attach = opts.on_attach,
    flags = { debounce_text_changes = 50 },
  })
  clients[dir] = id
  return id
end

function M.setup(opts)
  opts = opts or {}
  local patterns = { "curvelint.toml" }
  for ext in pairs(M.filetypes) do
    table.insert(patterns, "*." .. ext)
  end
  vim.api.nvim_create_autocmd({ "BufReadPost", "BufNewFile" }, {
    group = vim.api.nvim_create_augroup("curvelint", { clear = true }),
    pattern = patterns,
    callback = function(event)
      local ext = vim.fn.fnamemodify(event.file, ":e")
      if M.filetypes[ext] then
        vim.bo[event.buf].filetype = M.filetypes[ext]
      end
      local id = client(root(vim.api.nvim_buf_get_name(event.buf)), opts)
      if id then
        vim.lsp.buf_attach_client(event.buf, id)
      end
    end,
  })
  -- :Frame 1040 jumps to the keys on a frame.
  local function jump(arg)
    vim.lsp.buf_request(0, "workspace/symbol", { query = arg.args }, function(err, found)
      if err or not found or #found == 0 then
        vim.notify("curvelint: no key on frame " .. arg.args, vim.log.levels.WARN)
        return
      end
      vim.lsp.util.jump_to_location(found[1].location, "utf-16")
    end)
  end
  vim.api.nvim_create_user_command("Frame", jump, { nargs = 1 })
  -- :Compare says what changed since the earlier pass, in a window of its own.
  local function compare()
    local ask = { command = "curvelint.compare", arguments = { { uri = vim.uri_from_bufnr(0), quiet = true } } }
    vim.lsp.buf_request(0, "workspace/executeCommand", ask, function(err, found)
      if err or not found then
        vim.notify("curvelint: " .. (err and err.message or "nothing to compare"), vim.log.levels.WARN)
        return
      end
      vim.cmd("botright new")
      vim.bo.buftype, vim.bo.bufhidden, vim.bo.swapfile = "nofile", "wipe", false
      vim.api.nvim_buf_set_lines(0, 0, -1, false, vim.split(found.text, "\n"))
    end)
  end
  vim.api.nvim_create_user_command("Compare", compare, {})
end

return M
