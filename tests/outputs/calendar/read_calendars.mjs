// Reads calendar files with ical.js and prints what it found, one JSON list a file.
// Arguments: the folder that holds ical.js, then the files.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { join } from "node:path";

const [modules, ...files] = process.argv.slice(2);
const loaded = createRequire(join(modules, "here.js"))("ical.js");
const ICAL = loaded.default ?? loaded;

function moment(time) {
  return time.isDate ? time.toString() : time.toUnixTime();
}

function read(file) {
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(file, "utf8")));
  ICAL.TimezoneService.reset();
  for (const zone of calendar.getAllSubcomponents("vtimezone")) {
    ICAL.TimezoneService.register(zone);
  }
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    const alarms = component.getAllSubcomponents("valarm");
    return {
      uid: event.uid,
      summary: event.summary,
      description: event.description ?? "",
      start: moment(event.startDate),
      end: moment(event.endDate),
      status: component.getFirstPropertyValue("status"),
      sequence: event.sequence,
      alarms: alarms.map((alarm) => alarm.getFirstPropertyValue("trigger").toSeconds()),
    };
  });
}

console.log(JSON.stringify(files.map(read)));
