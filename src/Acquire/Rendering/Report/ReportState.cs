using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Books;
using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>The state in one sentence, and the strip that it rests on.</summary>
internal static class ReportState
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "state");
        page.Raw($"<p class=\"verdict {ReportWords.Class(report.Answer.Says)}\">{HtmlWriter.Escape(Sentence(report) + Rests(report))}</p>");
        page.Paragraph(About(report));
        page.Paragraph(
            "Strips tell of densities. They do not tell whether a solution is safe to handle, and nothing of what came after them.",
            "soft");
        var results = report.Strip.Judgement.Results.Where(r => r.OnStrip).ToList();
        page.Table(
            $"Strip {StripId.ShortForm(report.Strip.StripId)} against its aims and limits",
            ["parameter", HtmlWriter.Cell.Number(
                "value"), HtmlWriter.Cell.Number("aim"), HtmlWriter.Cell.Number("deviation"), HtmlWriter.Cell
                .Number("± u"), "action limit", "control limit", "zone", "verdict", HtmlWriter.Cell.Number("inside with")],
            results.Select(Row));
        var judgement = report.Strip.Judgement;
        if (AssumptionLine.Of(judgement.RestsOnAssumption) is { } assumed)
        {
            var taken = judgement.Ground?.Instrument.Assumptions ?? Assumptions.Default;
            page.Paragraph(string.Join(" ", new[]
            {
                assumed, AssumptionWords.What(judgement.RestsOnAssumption, taken), AssumptionLine.WhatATestChanges(judgement, taken),
            }.OfType<string>()));
        }

        foreach (var result in results)
        {
            if (result.Verdict?.WhatDecides is { } decides)
            {
                page.Paragraph($"{result.Label}: {decides}.");
            }
            else if (result.Deviation is null && result.WhyMissing is { } why)
            {
                page.Paragraph($"{result.Label} is not known: {why}");
            }
        }
    }

    private static string Rests(DarkroomReport report) =>
        AssumptionWords.Rests(report.Strip.Judgement.RestsOnAssumption) is { } rests ? $" This {rests}." : "";

    /// <summary>May it be said that the process is in control?</summary>
    public static string Sentence(DarkroomReport report)
    {
        var judged = report.Strip.Judgement.Results.Where(r => r.Verdict is not null).ToList();
        if (judged.Count == 0)
        {
            return "It may not be said whether the process is in control: nothing on this strip has both an aim and a limit.";
        }

        string Names(Func<ParameterResult, bool> which) => Numbers.Names([.. judged.Where(which).Select(r => r.Label)]);
        var level = judged[0].Verdict!.Level.ToString("0.## %", CultureInfo.InvariantCulture);
        var whole = report.Strip.Judgement.Whole!;
        var (outside, open, action) = (Names(whole.Out.Contains), Names(whole.Open.Contains), Names(r => r.Zone == Zone.Action));
        return (outside.Length, open.Length) switch
        {
            ( > 0, _) when report.Answer.Says == StripSays.Stop =>
                $"No: the process is out of control by {outside}, with {level} probability or more.",
            ( > 0, _) => $"It may not be said that the process is in control: {outside} lies past the action limit, the only one it "
                + $"has, with {level} probability or more.",
            (_, > 0) => $"It may not be said yet that the process is in control: the uncertainty leaves {open} open"
                + (report.Answer.Says == StripSays.Stop ? ", and by plain comparison a control limit is passed." : "."),
            _ when action.Length > 0 => $"Yes, the process is in control with {level} probability or more, but {action} lies past the "
                + "action limit: look for the cause.",
            _ when report.Strip.Judgement.Unjudged is { IsEmpty: false } unjudged =>
                $"Yes, as far as the strip was read: everything judged is in control with {level} probability or more; not judged: "
                + $"{Numbers.Names([.. unjudged.Select(u => u.Label)])}.",
            _ =>
                $"Yes: every parameter of the {(report.IsOfOneStrip ? "" : "newest ")}strip is in control with {level} probability or "
                + "more.",
        };
    }

    private static string About(DarkroomReport report)
    {
        var (strip, record) = (report.Strip, report.Record);
        var age = report.MadeAt - strip.At;
        return string.Concat(
            $"That rests on strip {StripId.ShortForm(strip.StripId)} of lot {strip.Lot}, which ran {Numbers.Moment(strip.At)}",
            strip.Line is { } line ? $" in line {line}" : "",
            strip.Bottle is { } bottle ? $", bottle {bottle}" : "",
            strip.AgeDays is { } days ? string.Create(CultureInfo.InvariantCulture, $" (mixed {days:0.#} days before)") : "",
            $"; read by {record.Provenance.By}, {EntryText.Age(age < TimeSpan.Zero ? TimeSpan.Zero : age)} before this report was made.",
            record.Tags.Note is { } note ? $" Note: {note}" : "",
            record.CheckLacking is { } lacking ? $" The instrument was not checked: {lacking}." : "");
    }

    private static IReadOnlyList<HtmlWriter.Cell> Row(ParameterResult result) =>
    [
        new HtmlWriter.Cell(result.Label, "keep"),
        HtmlWriter.Cell.Number(result.Value is { } value ? Numbers.Density(value) : ReportWords.None),
        HtmlWriter.Cell.Number(result.Aim is { } aim ? Numbers.Density(aim) : ReportWords.None),
        HtmlWriter.Cell.Number(ReportWords.Deviation(result)),
        HtmlWriter.Cell.Number(ReportWords.Uncertainty(result)),
        result.Limits.Action?.ToString() ?? "none",
        result.Limits.Control?.ToString() ?? "none",
        new HtmlWriter.Cell(result.Zone.Word(), ReportWords.Class(result.Zone)),
        new HtmlWriter.Cell(
            result.Verdict?.Verdict.Word() ?? "no verdict", ("keep " + ReportWords.Class(result.Verdict?.Verdict)).TrimEnd()),
        HtmlWriter.Cell.Number(result.Verdict is { } v ? Numbers.Tenths(v.ProbabilityInside) : ReportWords.None),
    ];
}

/// <summary>Words and numbers that the sections share.</summary>
internal static class ReportWords
{
    public const string None = "–";

    /// <summary>Where links to a strip lead.</summary>
    public static string Anchor(Guid strip) => $"strip-{strip:N}";

    public static string Class(Verdict? verdict) => verdict switch
    {
        Analysis.Uncertainty.Verdict.OutOfControl => "stop",
        Analysis.Uncertainty.Verdict.Undecided => "look",
        _ => "",
    };

    public static string Class(Zone? zone) => zone switch
    {
        Zone.Out => "stop",
        Zone.Action => "look",
        _ => "",
    };

    public static string Class(StripSays says) => says switch
    {
        StripSays.Stop => "stop",
        StripSays.LookFirst => "look",
        _ => "good",
    };

    public static string Deviation(ParameterResult result) => result.Deviation is not { } deviation ? None
        : result.Parameter.Written(deviation);

    public static string Uncertainty(ParameterResult result) => result.StandardUncertainty is { } u 
        ? "±" + Numbers.Density(u) + AssumptionLine.MarkOf(result.RestsOnAssumption) : "";
}
