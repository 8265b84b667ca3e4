// What a ruler finds on a page. Each measure returns the faults, one line each.
const PRESSED =
  'a[href], button, summary, select, input:not([type=hidden]), textarea, [tabindex="0"]';

const told = (one) => one.outerHTML.replace(/\s+/g, " ").slice(0, 90);

const seen = (one) => one.checkVisibility({ visibilityProperty: true }) && !one.closest(".skip");

const forEars = (one) => !!one && (getComputedStyle(one).clipPath !== "none" || forEars(one.parentElement));

// the controls that a finger presses, with the place that answers: a tick's label is part of it
function targets() {
  return [...document.querySelectorAll(PRESSED)]
    .filter((one) => seen(one) && !one.matches("[role=region]"))
    .map((one) => {
      const ticked = /checkbox|radio/.test(one.type);
      const label = one.closest("label") || (ticked && one.id && document.querySelector(`label[for="${one.id}"]`));
      const boxes = (label ? [one, label] : [one]).map((each) => each.getBoundingClientRect());
      return {
        one,
        width: Math.max(...boxes.map((box) => box.width)),
        height: Math.max(...boxes.map((box) => box.height)),
        box: boxes[boxes.length - 1],
      };
    });
}

function smallTargets(least) {
  return targets()
    .filter(({ width, height }) => width < least - 0.5 || height < least - 0.5)
    .map(({ one, width, height }) => `${told(one)} is ${width} x ${height}`);
}

function closeTargets(least) {
  const found = targets();
  const faults = [];
  found.forEach(({ one, box }, at) => {
    for (const other of found.slice(at + 1)) {
      if (one.contains(other.one) || other.one.contains(one)) continue;
      const across = Math.max(box.left, other.box.left) - Math.min(box.right, other.box.right);
      const down = Math.max(box.top, other.box.top) - Math.min(box.bottom, other.box.bottom);
      if (Math.max(across, down) < least - 0.5) {
        faults.push(`${told(one)} is ${across} and ${down} from ${told(other.one)}`);
      }
    }
  });
  return faults;
}

function smallText(least) {
  return [...document.querySelectorAll("main p, main li, main td, main dd")]
    .filter((one) => seen(one) && one.innerText.trim())
    .filter((one) => parseFloat(getComputedStyle(one).fontSize) < least)
    .map(told);
}

function unseenFocus() {
  return [...document.querySelectorAll(PRESSED)]
    .filter((one) => one.checkVisibility() && !one.disabled)
    .filter((one) => {
      one.focus({ focusVisible: true });
      return document.activeElement !== one || !hasRing(one);
    })
    .map(told);
}

// the control that has the focus, where nobody can see that: out of sight, under something, or without a ring
function hiddenFocus() {
  const one = document.activeElement;
  if (one === document.body) return []; // between the last control and the first
  const { left, right, top, bottom } = one.getClientRects()[0];
  const across = [Math.max(left, 0) + 1, Math.min(right, innerWidth) - 1];
  const down = [Math.max(top, 0) + 1, Math.min(bottom, innerHeight) - 1];
  const corners = across.flatMap((x) => down.map((y) => document.elementFromPoint(x, y)));
  const isOnTop = corners.some((there) => there && (one.contains(there) || there.contains(one)));
  return [
    ...(across[0] > across[1] || down[0] > down[1] ? [`out of sight: ${told(one)}`] : []),
    ...(isOnTop ? [] : [`covered: ${told(one)}`]),
    ...(hasRing(one) ? [] : [`no ring: ${told(one)}`]),
  ];
}

function hasRing(one) {
  const style = getComputedStyle(one);
  return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
}

function tooWide(width) {
  const there = document.documentElement.scrollWidth;
  if (there <= width) return [];
  const sticking = [...document.querySelectorAll("body *")]
    .filter((one) => one.getBoundingClientRect().right > width + 1)
    .filter((one) => !one.closest(".scroll, .drawing-strip"))
    .slice(0, 3)
    .map(told);
  return [`${there} px wide on ${width} px: ${sticking.join(" | ")}`];
}

// words too pale for the paper behind them. Source: WCAG 2.2, contrast ratio
function paleText(least) {
  const faults = new Set();
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const own = words.currentNode.parentElement;
    if (!words.currentNode.data.trim() || !seen(own) || own.closest("svg") || forEars(own)) continue;
    const [pale, bright] = [luminance(inkOf(own)), luminance(paperOf(own))].sort((one, other) => one - other);
    const contrast = (bright + 0.05) / (pale + 0.05);
    if (contrast < least) faults.add(`${contrast.toFixed(2)} to 1: ${told(own)}`);
  }
  return [...faults];
}

const inkOf = (one) => channels(getComputedStyle(one).color);

function paperOf(one) {
  const behind = channels(getComputedStyle(one).backgroundColor);
  if (behind[3] > 0) return behind;
  return one.parentElement ? paperOf(one.parentElement) : [255, 255, 255, 1];
}

function channels(colour) {
  const [red, green, blue, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
  return [red, green, blue, alpha];
}

function luminance([red, green, blue]) {
  const linear = [red, green, blue]
    .map((each) => each / 255)
    .map((each) => (each <= 0.04045 ? each / 12.92 : ((each + 0.055) / 1.055) ** 2.4));
  return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
}

// words that end outside the box that shows them, or outside the one that was made for them
function clippedText() {
  const faults = new Set();
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  while (words.nextNode()) {
    const own = words.currentNode.parentElement;
    if (!words.currentNode.data.trim() || !seen(own) || own.closest("svg, option") || forEars(own)) continue;
    range.selectNodeContents(words.currentNode);
    for (const box of range.getClientRects()) {
      if (box.width > 1 && leavesItsBox(box, own)) faults.add(`${words.currentNode.data.trim()} in ${told(own)}`);
    }
  }
  return [...faults];
}

function leavesItsBox(box, own) {
  let isFirstBlock = true;
  for (let up = own; up && up !== document.body; up = up.parentElement) {
    const style = getComputedStyle(up);
    if (style.display === "inline" || style.display === "contents") continue;
    const edge = up.getBoundingClientRect();
    const across = box.right > edge.right + 2 || box.left < edge.left - 2;
    const down = box.bottom > edge.bottom + 2 || box.top < edge.top - 2;
    const scrolls = /auto|scroll/.test(style.overflowX + style.overflowY);
    if (scrolls) return false; // what is beyond the edge can be brought here
    if (isFirstBlock && across) return true;
    if (/hidden|clip/.test(style.overflowX) && across) return true;
    if (/hidden|clip/.test(style.overflowY) && down) return true;
    isFirstBlock = false;
  }
  return false;
}
