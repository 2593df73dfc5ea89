package web

// DemoTitle is the title of DemoPlan.
const DemoTitle = "Harbour lanterns"

// DemoPlan is a plan to try things out on.
const DemoPlan = `{
  "title": "Harbour lanterns",
  "unit": "in",
  "seam": "1/4",
  "center": {"width": "36 1/2", "length": "48 1/2"},
  "borders": [
    {"name": "dark line", "cut": "1 1/2"},
    {"name": "ticking", "cut": "5 1/2", "stripe": "1 1/8"}
  ],
  "spare": "4"
}`
