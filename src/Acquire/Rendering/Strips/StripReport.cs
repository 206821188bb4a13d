using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Books;
using Acquire.Bench.Processes;
using Acquire.Bench.Strips;
using Acquire.Rendering.Processes;
using Acquire.Rendering.Sessions;

namespace Acquire.Rendering.Strips;

/// <summary>One strip: where each parameter lies, and what that means.</summary>
internal static class StripReport
{
    public static void Write(
        IAnsiConsole console,
        StripRecord strip,
        StripJudgement judgement,
        TimeProvider time,
        bool json,
        StripTies? ties = null,
        StripContext? books = null)
    {
        if (json)
        {
            JsonOutput.Write(console, StripJson.Of(strip, judgement, ties, books));
            return;
        }

        console.Line(Heading(strip, time));
        foreach (var tie in Ties(strip).Concat(BookLines(books)))
        {
            console.Line(tie);
        }

        if (strip.CheckLacking is { } lacking)
        {
            console.Line($"The instrument was not checked: {lacking}.");
        }

        foreach (var question in QuestionLine.Of(strip.Questions))
        {
            console.Line(question);
        }

        if (strip.Aims.IsEmpty)
        {
            console.Line(
                "Read without aims: the lot had no reference, so there is no deviation and no zone. Once five such strips are read: "
                + $"acquire lot baseline {strip.LotCode}");
            ReadsTable.WriteMeans(console, strip);
            return;
        }

        // The verdict comes last, where the eye rests at a terminal; all above is what it stands on.
        console.WriteTable(Table(judgement));
        CurveTable.Write(console, strip);
        foreach (var note in Notes(strip, judgement))
        {
            console.Line(note);
        }

        WriteVerdict(console, Verdict(strip, judgement), ZoneStyle.Of(judgement.Overall));
        VerdictReport.Write(console, judgement);
        if (ties is not null)
        {
            StripWorkReport.Write(console, ties);
        }
    }

    /// <summary>The sentence that counts, coloured at a terminal, and never broken in a file.</summary>
    private static void WriteVerdict(IAnsiConsole console, string verdict, Style style)
    {
        if (!console.Profile.Capabilities.Ansi)
        {
            console.Line(verdict);
            return;
        }

        console.Write(new Text(verdict, style));
        console.Line("");
    }

    private static IEnumerable<string> BookLines(StripContext? books) =>
        new[] { books?.Bottle is { } bottle ? EntryText.Line(bottle) : null, books?.Line is { } line ? EntryText.Line(line) : null }
            .OfType<string>();

    private static string Heading(StripRecord strip, TimeProvider time)
    {
        var where = string.Concat(
            strip.Tags.Line is { } line ? $", line {line}" : "",
            strip.Tags.Bottle is { } bottle ? $", bottle {bottle}" : "");
        var at = Numbers.Moment(strip.Provenance.At, time);
        return $"Strip {StripId.ShortForm(strip.Id)}: {strip.JudgedBy.Name}, lot {strip.LotCode}{where}; "
            + $"read {at} by {strip.Provenance.By}{(strip.Provenance.Instrument is { } used ? $" with {used.Name}" : "")}";
    }

    /// <summary>Which other strips it goes with, and what was said of it.</summary>
    private static IEnumerable<string> Ties(StripRecord strip)
    {
        if (strip.Tags.Confirms is { } first)
        {
            yield return $"Second strip, run to confirm {StripId.ShortForm(first)}.";
        }

        if (strip.Tags.Reread is { } again)
        {
            var after = again.After == Treatment.None ? "" : $" after {again.After.Word()}";
            yield return $"The same strip as {StripId.ShortForm(again.Of)}, read again{after}; judged by the same aims.";
        }

        if (strip.Tags.PairedWith is { } pair)
        {
            yield return $"Processed together with {StripId.ShortForm(pair)}, for a crossover.";
        }

        foreach (var text in StripTags.Texts.Where(t => !t.IsPlace && t.Of(strip.Tags) is not null))
        {
            yield return $"{char.ToUpperInvariant(text.Name[0])}{text.Name[1..].Replace('_', ' ')}: {text.Of(strip.Tags)}";
        }

        if (strip.Revision.Number > 1)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture, $"Revision {strip.Revision.Number}, by {strip.Revision.By}: {strip.Revision.Reason}");
        }

        if (strip.Aims.Any(a => a.Adjustment != 0))
        {
            yield return "The aims are adjusted by a crossover from the lot before.";
        }
    }

    /// <summary>A row a parameter, a column a channel: deviation ± standard uncertainty, and the zone where it is not inside.</summary>
    private static Table Table(StripJudgement judgement)
    {
        var results = judgement.Results.Where(r => r.OnStrip).ToList();
        var channels = results.Select(r => r.Channel).OfType<Channel>().Distinct().Order().ToList();
        var table = Tables.New(["deviation from aim", .. channels.Select(c => c.Word()), "action", "control"]);
        foreach (var group in results.GroupBy(r => r.Parameter))
        {
            var cells = channels.Select(c => group.FirstOrDefault(r => r.Channel == c)).ToList();
            if (group.FirstOrDefault(r => r.Channel is null) is { } overAll)
            {
                cells[0] = overAll;
            }

            table.AddRow(
            [
                new Text(group.Key.Name),
                .. cells.Select(Cell),
                new Text(LimitText.Of(group.Key, l => l.Action)),
                new Text(LimitText.Of(group.Key, l => l.Control)),
            ]);
        }

        return table;
    }

    private static Text Cell(ParameterResult? result)
    {
        if (result is null)
        {
            return new Text("");
        }

        if (result.Deviation is not { } deviation)
        {
            return new Text("not known");
        }

        var u = result.StandardUncertainty is { } uncertainty ? $" ±{uncertainty.ToString("0.000", CultureInfo.InvariantCulture)}"
            + AssumptionLine.MarkOf(result.RestsOnAssumption) : "";
        var zone = result.Zone is null or Zone.Inside ? "" : $" {result.Zone.Word().ToUpperInvariant()}";
        var shown = result.Parameter.Written(deviation);
        return new Text(shown + u + zone, ZoneStyle.Of(result.Zone));
    }

    private static IEnumerable<string> Notes(StripRecord strip, StripJudgement judgement)
    {
        yield return $"± is the standard uncertainty. {Basis(strip, judgement)}";
        if (AssumptionLine.Of(judgement.RestsOnAssumption) is { } assumed)
        {
            yield return string.Join(" ", new[] { assumed, AssumptionLine.WhatATestChanges(judgement, Taken(judgement)) }.OfType<string>());
        }

        foreach (var result in judgement.Results)
        {
            if (result.Spread is { } spread)
            {
                yield return $"{result.Parameter.Name}: R − G {Numbers.Deviation(spread.RedMinusGreen)}, B − G "
                    + $"{Numbers.Deviation(spread.BlueMinusGreen)}; "
                    + $"reading noise alone would show about {Numbers.Density(spread.FromReadingNoise)}.{SpreadNote.Of(spread)}";
            }
            else if (result is { OnStrip: true, Deviation: null, WhyMissing: { } why })
            {
                yield return $"{Name(result)} is not known: {why}";
            }

            if (SpeedNote.Of(result) is { } speed)
            {
                yield return $"{Name(result)}: {speed}";
            }
        }

        // What the usual strips of a process never have is no news.
        if (strip.JudgedBy.LayoutOf(strip.Layout) != strip.JudgedBy.Layouts[0] && judgement.NotOnStrip is { IsEmpty: false } absent)
        {
            yield return $"Not on this strip: {string.Join(", ", absent.Select(p => p.Name))}.";
        }
    }

    /// <summary>What the uncertainty rests on: how reads were seen to repeat, and what is assumed for the rest.</summary>
    private static string Basis(StripRecord strip, StripJudgement judgement)
    {
        var assumed = AssumptionWords.What(
            judgement.RestsOnAssumption, Taken(judgement));
        if (judgement.Repeatability.IsEmpty)
        {
            return assumed ?? "Each patch was read once; how the instrument repeats is known from its other reads.";
        }

        var channels = judgement.Repeatability.OrderBy(r => r.Key)
            .Select(r => string.Create(CultureInfo.InvariantCulture, $"{r.Key.Letter()} {r.Value.StandardDeviation:0.0000}"));
        var source = strip.Repeatability is null
            ? "Re-placed reads of this strip"
            : "Re-placed reads of this strip and of the instrument's repeatability test";
        return $"{source} repeat to s = {string.Join(", ", channels)}. {assumed}".TrimEnd();
    }

    private static Assumptions Taken(StripJudgement judgement) => judgement.Ground?.Instrument.Assumptions ?? Assumptions.Default;

    private static string Verdict(StripRecord strip, StripJudgement judgement)
    {
        var worst = string.Join("; ", judgement.Worst.Select(r => $"{Name(r)} {r.Parameter.Written(r.Deviation!.Value)}"));
        return judgement.Overall switch
        {
            // A strip that was treated after its run shows what the treatment did, and no longer how the process ran.
            { } zone when strip.Tags.Reread is { After: not Treatment.None and var treatment } =>
                $"{(zone == Zone.Inside ? "Inside the action limits" : $"Past a limit still: {worst}")}, as the strip is after "
                + $"{treatment.Word()}. "
                + "For the process as it ran, the first reading stands.",
            Zone.Action when strip.Tags.Confirms is not null => $"In the ACTION zone: {worst}.",
            Zone.Out when strip.Tags.Confirms is not null => $"OUT of control: {worst}.",
            Zone.Inside when judgement.Unjudged.Length > 0 =>
                $"INSIDE the action limits as far as it was read; not judged: {string.Join(", ", judgement.Unjudged.Select(Name))}.",
            Zone.Inside => "INSIDE the action limits. Leave the process alone.",
            Zone.Action => $"In the ACTION zone: {worst}. Check the reading, then find the cause; a second strip confirms it.",
            Zone.Out => $"OUT of control: {worst}. Check the reading and the instrument, then run a second strip before film that matters.",
            _ when judgement.Results.Any(r => r.OnStrip && !r.Limits.AreEmpty) =>
                "No verdict: nothing that has limits could be compared with an aim.",
            _ => $"No verdict: {ProcessNotes.NoLimits(strip.JudgedBy)}",
        };
    }

    private static string Name(ParameterResult result) => result.Label;
}
