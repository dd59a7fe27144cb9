#include "lib/report/page/style.hpp"

namespace fettlefund::report {

namespace {

constexpr const char* style =
    R"(:root{color-scheme:light dark;--ink:#1a1a1a;--soft:#505050;--paper:#ffffff;--edge:#767676;--mind:#fff3cd;--mind-ink:#332701;--mind-edge:#8a6100;--link:#00508a;--bar:#00609c;--floor:#a33b00}
@media (prefers-color-scheme:dark){:root{--ink:#ececec;--soft:#bdbdbd;--paper:#17191c;--edge:#8f8f8f;--mind:#3a2f0b;--mind-ink:#fbe9b0;--mind-edge:#d9b24a;--link:#8cc8ff;--bar:#6cb6ee;--floor:#ffab7a}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;max-width:60rem;padding:.75rem;font:1rem/1.45 Arial,Helvetica,"Liberation Sans","DejaVu Sans",sans-serif;color:var(--ink);background:var(--paper);overflow-wrap:anywhere}
h1{font-size:1.5rem;line-height:1.2;margin:.25rem 0 .5rem}
h2{font-size:1.25rem;line-height:1.25;margin:0 0 .5rem}
h3{font-size:1rem;margin:1rem 0 .25rem;border-bottom:1px solid var(--edge)}
h4{font-size:1rem;margin:.5rem 0 .1rem;font-weight:600}
p{margin:.35rem 0}
a{color:var(--link)}
ul,ol{margin:.25rem 0;padding-left:1.4rem}
li{margin:.2rem 0}
ul.ticks,ol.steps{list-style:none;padding-left:0}
ul.ticks>li:not(:has(label)){padding-left:1.65rem}
.soft{color:var(--soft)}
.again{display:none}
.skip{position:absolute;left:-999rem}
.skip:focus{position:static}
.next,.card,.panel{border:1px solid var(--edge);border-radius:.4rem;padding:.75rem;margin:1rem 0}
.next{border-width:2px}
.tick{display:flex;gap:.5rem;align-items:flex-start;min-height:1.5rem}
.tick input{flex:none;width:1.15rem;height:1.15rem;margin:.15rem 0 0}
.tick span{min-width:0}
.tick input:checked+span{text-decoration:line-through}
.kind{font-weight:600;border:1px solid var(--edge);border-radius:.2rem;padding:0 .3rem}
.mind{background:var(--mind);color:var(--mind-ink);border-left:.35rem solid var(--mind-edge);padding:.15rem .5rem;margin:.4rem 0}
.torque{font-weight:700}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600}
th,td{border-bottom:1px solid var(--edge);padding:.2rem .3rem;text-align:right;vertical-align:top}
th:first-child,td:first-child{text-align:left}
.sums{max-width:26rem}
.sums td{white-space:nowrap}
.sums th{font-weight:400;text-align:left}
.sums tr.total th,.sums tr.total td{font-weight:700}
.chart svg{width:100%;max-width:34rem;height:auto;display:block;color:var(--ink)}
.picture svg{width:100%;height:auto;display:block;background:#ffffff}
.columns{display:grid;grid-template-columns:1fr;column-gap:1.25rem}
@media (min-width:45rem){.columns{grid-template-columns:1fr 1fr}}
@media print{
:root{--ink:#000000;--soft:#333333;--paper:#ffffff;--edge:#555555;--mind:#ffffff;--mind-ink:#000000;--mind-edge:#000000;--link:#000000;--bar:#555555;--floor:#000000}
@page{margin:7mm 7mm 9mm;@bottom-right{content:"Sheet " counter(page) " of " counter(pages);font:9.2pt Arial,Helvetica,"Liberation Sans",sans-serif}}
html,body{font-size:9.05pt}
body{font-family:Arial,Helvetica,"Liberation Sans","DejaVu Sans Condensed",sans-serif}
body{max-width:none;padding:0;line-height:1.1}
h1{font-size:14pt}h2{font-size:12pt}h3,h4{font-size:10pt}
h3{margin:.2rem 0 .05rem}h4{margin:.15rem 0 0}
ul,ol{margin:.05rem 0}
p{margin:.15rem 0}
.mind{margin:.02rem 0;padding:0 .35rem;border-left-width:.25rem}
th,td{padding:0 .3rem}
h2,h3,h4,li.mind,li.session{break-after:avoid}
li,tr,.mind,.sums{break-inside:avoid}
li{margin:.02rem 0}
nav,.skip,.picture,.screen{display:none}
.card{display:table;table-layout:fixed;width:100%;break-before:page;border:0;padding:0;margin:0}
.again{display:table-header-group;break-inside:avoid;font-weight:700;line-height:14pt}
.card>h2{position:relative;margin-top:-14pt;line-height:14pt;background:var(--paper)}
.panel,.next{border:0;padding:0;margin:.3rem 0}
.care{break-before:page}
.tick{min-height:0}
.tick input{width:9.5pt;height:9.5pt;margin:.1rem 0 0;appearance:none;-webkit-appearance:none;border:1px solid #000000}
.tick input:checked{background:#555555}
.chart svg{max-width:120mm}
.columns{display:block}
a{text-decoration:none}
.flow,.jobs{columns:2;column-gap:5mm}
}
)";

constexpr const char* script = R"((function(){"use strict";try{
var store=window.localStorage,head="fettlefund "+document.body.getAttribute("data-build")+" ";
document.querySelectorAll("input[data-key]").forEach(function(box){
var key=head+box.getAttribute("data-key");
if(store.getItem(key)==="1"){box.checked=true;}
box.addEventListener("change",function(){try{if(box.checked){store.setItem(key,"1");}else{store.removeItem(key);}}catch(full){}});
});}catch(closed){}}());
)";

}  // namespace

const char* page_style() { return style; }

const char* page_script() { return script; }

}  // namespace fettlefund::report
