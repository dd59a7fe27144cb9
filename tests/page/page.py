"""Measures pages of stage cards in a real browser and on paper. Usage: page.py FOLDER PAGE.html ..."""

import html
import json
import pathlib
import re
import subprocess
import sys

CHROMIUM = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
            "--allow-file-access-from-files", "--enable-logging=stderr", "--virtual-time-budget=9000"]
POINTS_LEAST = 9.0
FEW_JOBS = {"A4": 6, "A5": 1}  # so many were seen to fit on one sheet with all their orders
MOST_SHEETS = {"A4": 1, "A5": 2}
CONTRAST_LEAST = 4.5

# Runs beside the page, which stands in a frame of each width to be measured, one after the other.
PROBE = r"""<!DOCTYPE html><html><body style="margin:0"><pre id="result"></pre><script>
function channel(v){v/=255;return v<=0.04045?v/12.92:Math.pow((v+0.055)/1.055,2.4);}
function parse(c){var m=c.match(/[\d.]+/g).map(Number);return m.length<4?m.concat([1]):m;}
function light(c){return 0.2126*channel(c[0])+0.7152*channel(c[1])+0.0722*channel(c[2]);}
function ground(w,e){for(;e;e=e.parentElement){var c=parse(w.getComputedStyle(e).backgroundColor);if(c[3]>0)return c;}
return [255,255,255,1];}
function measure(w){var d=w.document,out={width:w.innerWidth,overflow:d.documentElement.scrollWidth-d.documentElement.clientWidth,
worst:99,where:"",unlabelled:0,scripts:d.scripts.length,levels:[],wide:[]};
d.querySelectorAll("body *").forEach(function(e){
if(e.closest("svg")||["SCRIPT","STYLE"].includes(e.tagName)||e.classList.contains("skip"))return;
var b=e.getBoundingClientRect();if(b.right>d.documentElement.clientWidth+0.5)out.wide.push(e.tagName+": "+e.textContent.slice(0,40));
var own=Array.from(e.childNodes).some(function(n){return n.nodeType===3&&n.data.trim();});if(!own)return;
var a=light(parse(w.getComputedStyle(e).color)),g=light(ground(w,e)),r=(Math.max(a,g)+0.05)/(Math.min(a,g)+0.05);
if(r<out.worst){out.worst=r;out.where=e.tagName+": "+e.textContent.slice(0,40);}});
d.querySelectorAll("input").forEach(function(i){if(!i.labels||!i.labels.length||!i.labels[0].textContent.trim())out.unlabelled++;});
d.querySelectorAll("h1,h2,h3,h4").forEach(function(h){out.levels.push(+h.tagName[1]);});
out.dark=w.matchMedia("(prefers-color-scheme: dark)").matches;
out.landmarks=["header","nav","main","footer"].filter(function(t){return d.querySelectorAll(t).length>0;}).length;
var ids=Array.from(d.querySelectorAll("[id]")).map(function(e){return e.id;});out.ids_twice=ids.length-new Set(ids).size;
out.keys_twice=d.querySelectorAll("input").length-new Set(Array.from(d.querySelectorAll("input")).map(function(i){return i.dataset.key;})).size;
return out;}
var widths=%(widths)s,all=[];
function frame(){if(all.length===widths.length){document.getElementById("result").textContent=JSON.stringify(all);return;}
var f=document.createElement("iframe"),loads=0,out;f.style.border="0";f.width=widths[all.length];f.height=800;
f.onload=function(){loads++;var d=f.contentWindow.document,box=d.querySelector("input");
if(loads===1){out=measure(f.contentWindow);if(box)box.click();f.contentWindow.location.reload();return;}
out.kept=!box||box.checked;if(box)box.click();all.push(out);f.remove();frame();};
f.src="%(page)s";document.body.appendChild(f);}
frame();
</script></body></html>"""

passed = failed = 0
planted = None  # while a fault is planted: the claims that it breaks


def claim(text, holds, seen=""):
    global passed, failed
    if planted is not None:
        if not holds:
            planted.append(text)
    elif holds:
        passed += 1
    else:
        failed += 1
        print(f"broken: {text}: {seen}")


def chromium(folder, *arguments):
    command = CHROMIUM + [f"--user-data-dir={folder}/profile"] + list(arguments)
    return subprocess.run(command, capture_output=True, text=True, timeout=180)


def measured(folder, page, widths, dark):
    """What the probe saw at each width (nothing where it did not come so far), and what the console said."""
    probe = pathlib.Path(folder) / "probe.html"
    probe.write_text(PROBE % {"page": page.name, "widths": json.dumps(widths)}, encoding="utf-8")
    scheme = "--blink-settings=preferredColorScheme=" + ("0" if dark else "1")
    run = chromium(folder, scheme, "--window-size=1400,900", "--dump-dom", f"file://{probe}")
    found = re.search(r'<pre id="result">(.*?)</pre>', run.stdout, re.S)
    noise = [line for line in run.stderr.splitlines() if "CONSOLE" in line]
    text = found.group(1).replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&") if found else ""
    return (json.loads(text) if text else []), noise


def on_screen(folder, page, widths=(360, 768, 1366), schemes=(False, True)):
    for dark in schemes:
        scheme = "dark" if dark else "light"
        views, noise = measured(folder, page, widths, dark)
        claim(f"{page.name}, {scheme}: it could be measured at every width", len(views) == len(widths))
        claim(f"{page.name}, {scheme}: the console is silent", not noise, noise[:2])
        for width, seen in zip(widths, views):
            name = f"{page.name} at {width} pixels, {scheme}"
            claim(f"{name}: the colour scheme took effect", seen["dark"] == dark)
            claim(f"{name}: it has that width", seen["width"] == width, seen["width"])
            claim(f"{name}: nothing scrolls sideways", seen["overflow"] <= 0 and not seen["wide"], seen["wide"][:3])
            claim(f"{name}: contrast", seen["worst"] >= CONTRAST_LEAST, (seen["worst"], seen["where"]))
            claim(f"{name}: ticks survive a reload", seen["kept"])
        if len(views) != len(widths):
            return
    claim(f"{page.name}: every box has a label", seen["unlabelled"] == 0, seen["unlabelled"])
    claim(f"{page.name}: one script, of its own", seen["scripts"] == 1, seen["scripts"])
    claim(f"{page.name}: header, navigation, main part and footer", seen["landmarks"] == 4)
    claim(f"{page.name}: ids and keys of ticks stand once", seen["ids_twice"] == 0 and seen["keys_twice"] == 0,
          (seen["ids_twice"], seen["keys_twice"]))
    levels = seen["levels"]
    steps = [b - a for a, b in zip(levels, levels[1:])]
    claim(f"{page.name}: one first heading and no level left out",
          levels[:1] == [1] and levels.count(1) == 1 and max(steps, default=0) <= 1, levels)


def printed(folder, page, size):
    text = page.read_text(encoding="utf-8").replace("</style>", f"@page{{size:{size}}}</style>", 1)
    copy = pathlib.Path(folder) / "printed.html"
    copy.write_text(text, encoding="utf-8")
    pdf = pathlib.Path(folder) / f"{page.stem}-{size}.pdf"
    chromium(folder, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", f"file://{copy}")
    return pdf


def jobs_of_cards(page):
    """How many jobs each card lists first."""
    cards = re.findall(r'<article class="card".*?</article>', page.read_text(encoding="utf-8"), re.S)
    lists = [re.search(r"<ol[^>]*>(.*?)</ol>", card, re.S) for card in cards]
    return [one.group(1).count("<li") if one else 0 for one in lists]


def plain(text):
    """Without blanks, tags and signs of HTML, as it is looked for on paper."""
    return re.sub(r"\s+", "", html.unescape(re.sub(r"<[^>]*>", "", text)))


def cut_lines(page, sheets):
    """Steps, rows and lines of lists in the cards that stand on no sheet as a whole, and cautions apart from what follows them."""
    cards = re.findall(r'<article class="card".*?</article>', page.read_text(encoding="utf-8"), re.S)
    whole = [plain(one) for card in cards for one in re.findall(r"<(?:li|tr)\b[^>]*>(.*?)</(?:li|tr)>", card, re.S)]
    items = [re.findall(r"<li\b([^>]*)>(.*?)</li>", card, re.S) for card in cards]
    whole += [plain(a[1] + b[1]) for card in items for a, b in zip(card, card[1:]) if "mind" in a[0]]
    return [one for one in whole if not any(one in sheet for sheet in sheets)]


def on_with(heads, texts):
    """Sheets behind the first of a card and before the next card that do not begin with what they go on with: (sheet, stage)."""
    first = [index for index, head in enumerate(heads) if head]
    return [(index + 1, heads[a].group(1)) for a, b in zip(first, first[1:]) for index in range(a + 1, b)
            if not re.match(rf"(?:Sheet \d+ of \d+\s)?Stage {heads[a].group(1)}, continued\s", texts[index])]


def on_paper(folder, page, sizes_of_paper=("A4", "A5")):
    stages = len(re.findall(r'<article class="card"', page.read_text(encoding="utf-8")))
    for size in sizes_of_paper:
        pdf = printed(folder, page, size)
        name = f"{page.name} on {size}"
        claim(f"{name}: it prints", pdf.exists())
        if not pdf.exists():
            continue
        zoomed = subprocess.run(["pdftohtml", "-xml", "-i", "-stdout", "-zoom", "3", str(pdf)],
                                capture_output=True, text=True).stdout
        sizes = {number: int(points) / 3 for number, points in
                 re.findall(r'<fontspec id="(\d+)" size="(\d+)"', zoomed)}
        used = [sizes[number] for number in re.findall(r'<text [^>]*font="(\d+)"[^>]*>(?=\s*\S)', zoomed)]
        claim(f"{name}: no text under {POINTS_LEAST} points", used and min(used) >= POINTS_LEAST,
              min(used, default=None))
        pages = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True).stdout.split("\f")
        heads = [re.search(r"^Stage (\d+): bench", one, re.M) for one in pages]  # drawn over the line that says "continued"
        claim(f"{name}: every further sheet of a card says that it goes on", not on_with(heads, pages), on_with(heads, pages))
        numbered = [f"Sheet {at} of {len(pages) - 1}" in one for at, one in enumerate(pages[:-1], 1)]
        claim(f"{name}: every sheet has its number", all(numbered), numbered)
        cut = cut_lines(page, [re.sub(r"\s+", "", one) for one in pages])
        claim(f"{name}: no step or row is cut by the end of a sheet", not cut, cut[:3])
        claim(f"{name}: every stage begins a sheet", sum(1 for head in heads if head) == stages,
              (sum(1 for head in heads if head), stages))
        first = [index for index, head in enumerate(heads) if head]
        longest = max((b - a for a, b in zip(first, first[1:])), default=1)
        sheets = [b - a for a, b in zip(first, first[1:])]  # what follows the last is no card
        few = [sheet for sheet, jobs in zip(sheets, jobs_of_cards(page)) if jobs <= FEW_JOBS[size]]
        claim(f"{name}: a card of up to {FEW_JOBS[size]} jobs is one sheet, no card more than {MOST_SHEETS[size]}",
              max(sheets, default=1) <= MOST_SHEETS[size] and max(few, default=1) == 1, list(zip(sheets, jobs_of_cards(page))))
        if planted is not None:
            continue
        print(f"{name}: {len(pages) - 1} sheets, the longest card {longest}, least text {min(used, default=0)} pt")


def with_style(rule):
    return lambda text: text.replace("</style>", rule + "</style>", 1)


def with_body(markup):
    return lambda text: text.replace("</main>", markup + "</main>", 1)


# What is done to a page, and the claim that has to break.
FAULTS = (
    (with_body("<div style='width:420px'>too wide for a telephone</div>"), "nothing scrolls sideways"),
    (with_body("<p style='color:#8a8a8a;background:#fff'>too pale</p>"), "contrast"),
    (with_body("<script>console.log('noise')</script>"), "the console is silent"),
    (lambda text: text.replace('store.setItem(key,"1")', "void 0"), "ticks survive a reload"),
    (with_body("<input type='checkbox' data-key='unlabelled'>"), "every box has a label"),
    (with_body("<h4>A level is left out</h4>"), "one first heading and no level left out"),
    (with_style("@media print{.card li{font-size:8pt!important}}"), "no text under"),
    (with_style("@media print{.card{break-before:auto!important;break-after:auto!important;"
                "break-inside:auto!important}}"), "every stage begins a sheet"),
    (with_style("@media print{.card li{line-height:4!important}}"), "jobs is one sheet"),
    (with_style("@media print{.again{display:none!important}}"), "further sheet of a card says that it goes on"),
    (with_style("@media print{@page{@bottom-right{content:none}}}"), "every sheet has its number"),
    (with_style("@media print{.card li{break-inside:auto!important;line-height:4!important;orphans:1;widows:1}}"), "no step or row is cut"),
)


def plant(folder, page):
    """Every claim about the browser and the paper breaks where its fault is planted."""
    global planted
    text = page.read_text(encoding="utf-8")
    for change, words in FAULTS:
        changed = change(text)
        copy = pathlib.Path(folder) / "planted.html"
        copy.write_text(changed, encoding="utf-8")
        planted = []
        if changed.count("@media print") > text.count("@media print"):
            on_paper(folder, copy, ("A5",))
        else:
            on_screen(folder, copy, (360,), (False,))
        broken, planted = planted, None
        claim(f"{page.name}: a planted fault breaks \"{words}\"",
              changed != text and any(words in one for one in broken), broken)


def main():
    folder, pages = sys.argv[1], [pathlib.Path(one) for one in sys.argv[2:]]
    for page in pages:
        text = page.read_text(encoding="utf-8")
        tidy = subprocess.run(["tidy", "-e", "-q", "-utf8", str(page)], capture_output=True, text=True)
        claim(f"{page.name}: no error of HTML", tidy.returncode < 2, tidy.stderr[:400])
        outside = re.findall(r'(?:src|href)="(?!#)[^"]*"|@import|url\(', text)
        claim(f"{page.name}: it loads nothing", not outside, outside[:3])
        on_screen(folder, page)
        on_paper(folder, page)
    plant(folder, pages[0])
    print(f"{passed} passed, {failed} failed")


if __name__ == "__main__":
    main()
