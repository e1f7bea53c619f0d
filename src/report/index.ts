/** Front door of the report layer: answers -> JSON for machines, HTML for people. */
export { studyReportHtml } from "./html.js";
export { answersDocument } from "./json.js";
export type {
  ReportProvenance,
  ReportRegion,
  ReportScan,
  ReportTracer,
  StudyReportData,
} from "./study-report-data.js";
export { type StudyReportFigures, studyReportFigures } from "./study-report-figures.js";
