// Guess the time zone from this device; the field can be changed.
"use strict";
const zone = document.querySelector("input[name=time_zone]");
if (zone && !zone.value) zone.value = Intl.DateTimeFormat().resolvedOptions().timeZone || "";
