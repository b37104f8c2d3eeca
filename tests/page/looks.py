"""What would keep somebody from using a screen: no name, faint text, targets too small, a page that is too wide."""

import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

DESK = {"viewport": {"width": 1280, "height": 800}}
PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2}
ACROSS = {**PHONE, "viewport": {"width": 740, "height": 360}}
# ruff: noqa: E501 (a script of the browser)
LOOK = r"""
() => {
  const found = [];
  const seen = (e) => { const r = e.getBoundingClientRect(); const s = getComputedStyle(e);
    return r.width > 0 && r.height > 0 && s.visibility !== 'hidden' && s.display !== 'none' && !e.closest('[aria-hidden="true"]'); };
  const name = (e) => (e.getAttribute('aria-label') || (e.getAttribute('aria-labelledby') && document.getElementById(e.getAttribute('aria-labelledby'))?.textContent)
    || [...(e.labels ?? [])].map((l) => l.textContent).join(' ') || e.textContent || e.getAttribute('title') || e.alt || '').trim();
  const who = (e) => `${e.tagName.toLowerCase()}.${e.className} ${(e.textContent || '').trim().slice(0, 30)}`;
  for (const e of document.querySelectorAll('button, a[href], input, select, textarea, summary, canvas[tabindex], [role="img"]')) {
    if (!seen(e)) continue;
    if (!name(e)) found.push(`no name: ${who(e)}`);
    const r = e.getBoundingClientRect();
    const inText = e.matches('a, .number, .linked, input[type=checkbox], input[type=file]') || e.closest('p, li, h3');
    if (!inText && (r.width < 24 || r.height < 24)) found.push(`too small to hit: ${who(e)} ${Math.round(r.width)}x${Math.round(r.height)}`);
  }
  for (const e of document.querySelectorAll('img')) if (!e.hasAttribute('alt')) found.push(`picture without words: ${e.src.slice(0, 40)}`);
  const ids = [...document.querySelectorAll('[id]')].map((e) => e.id);
  for (const id of new Set(ids.filter((x, i) => ids.indexOf(x) !== i))) found.push(`id twice: ${id}`);
  for (const e of document.querySelectorAll('[aria-describedby]')) for (const id of e.getAttribute('aria-describedby').split(' ')) if (!document.getElementById(id)) found.push(`described by nothing: ${id}`);
  if (!document.documentElement.lang) found.push('no language');
  if (!document.title) found.push('no title');
  if (document.querySelectorAll('h1').length !== 1) found.push('not one h1');
  let last = 1;
  for (const e of document.querySelectorAll('h1, h2, h3, h4')) { const level = Number(e.tagName[1]); if (level > last + 1) found.push(`a heading leaps: ${who(e)}`); last = level; }
  if (document.documentElement.scrollWidth > innerWidth + 1) found.push(`too wide: ${document.documentElement.scrollWidth}`);
  const bright = (c) => { const [r, g, b] = c.map((v) => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const rgb = (text) => (text.match(/[\d.]+/g) ?? []).map(Number);
  const ground = (e) => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] > 0.85) return c.slice(0, 3); } return [255, 255, 255]; };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const told = new Set();
  for (let n = walker.nextNode(); n; n = walker.nextNode()) {
    const e = n.parentElement;
    if (!n.textContent.trim() || !seen(e) || e.closest('svg, script, noscript, option, :disabled, .unseen')) continue;
    const s = getComputedStyle(e), a = bright(rgb(s.color).slice(0, 3)), b = bright(ground(e));
    const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    const large = parseFloat(s.fontSize) >= 24 || (parseFloat(s.fontSize) >= 18.66 && Number(s.fontWeight) >= 600);
    if (contrast < (large ? 3 : 4.5)) { const w = `faint text ${contrast.toFixed(2)}: ${who(e)}`; if (!told.has(w)) { told.add(w); found.push(w); } }
    if (parseFloat(s.fontSize) < 12) found.push(`small text: ${who(e)}`);
  }
  return found;
}
"""


def flaws(page: Any) -> list[str]:
    """What is wrong with the screen as it stands.

    Contrast after WCAG 2.2, 1.4.3; target size 2.5.8; names 4.1.2; headings and language 1.3.1, 3.1.1; reflow 1.4.10.
    """
    return list(page.evaluate(LOOK))


def engine(place: Path) -> str:
    """The text of an accessibility engine, fetched into a folder for temporary things; why not, where it can't be."""
    script = place / "node_modules" / "axe-core" / "axe.min.js"
    if not script.is_file():
        if shutil.which("npm") is None:
            pytest.skip("no npm here, so no accessibility engine; our own look at every screen stands")
        words = ["npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(place), "axe-core@4"]
        place.mkdir(exist_ok=True)
        try:
            subprocess.run(words, check=True, capture_output=True, timeout=60)
        except (subprocess.SubprocessError, OSError):
            pytest.skip("the accessibility engine can't be fetched; our own look at every screen stands")
    return script.read_text("utf-8")
