// contrasts are the contrast ratios of all text that is seen, by the formula of
// WCAG 2.2 (contrast ratio, relative luminance), which asks for 4.5 of text.
export const contrasts = (page) => page.evaluate(() => {
  const channels = (colour) => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const luminance = ([r, g, b]) => {
    const [x, y, z] = [r, g, b].map((v) => v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const behind = (e) => {
    for (; e; e = e.parentElement) {
      const c = channels(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] > 0) {
        return c;
      }
    }
    return [255, 255, 255];
  };
  const texts = [...document.querySelectorAll("body *")].filter((e) => e.checkVisibility() &&
    !["SCRIPT", "OPTION"].includes(e.tagName) && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()));
  return texts.map((e) => {
    const [a, b] = [luminance(channels(getComputedStyle(e).color)), luminance(behind(e))];
    return { text: e.textContent.slice(0, 40), ratio: (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) };
  });
});
