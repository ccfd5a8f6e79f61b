-- Curvelint in Neovim 0.11 and newer. Copy this file to lsp/curvelint.lua of
-- your configuration and write in init.lua:
--
--   vim.filetype.add({ extension = { usda = "usda", bvh = "bvh", gltf = "json", dae = "xml" } })
--   vim.lsp.enable("curvelint")

return {
  cmd = { "curvelint", "serve" },
  filetypes = { "usda", "usd", "bvh", "json", "xml", "vrml", "toml" },
  root_markers = { "curvelint.toml", ".git" },
  init_options = {
    -- The keys of a curvelint.toml, for every shot:
    -- settings = { checks = { ["hard-stop"] = { severity = "off" } } },
  },
}
