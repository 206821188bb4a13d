using Acquire.Analysis.Causes;
using Acquire.Bench.Causes;

namespace Acquire.Rendering.Causes;

/// <summary>
/// The causes of a strip at the terminal: one sentence, then the reasons, then what to do. Nothing but the sentence when nothing happened.
/// </summary>
internal static class CauseText
{
    /// <summary>Less probable causes are only listed.</summary>
    private const double WorthReasons = 0.05;

    /// <summary>How many patches are named for a cause, and against it; the JSON has all.</summary>
    private const int Patches = 4;

    public static void Write(IAnsiConsole console, CauseCase found)
    {
        var study = found.Study;
        console.Paragraph("", CauseWords.First(study));
        if (found.Strip.Id != found.Asked.Id)
        {
            console.Paragraph("", $"Weighed is strip {StripId.ShortForm(found.Strip.Id)}, the reading before "
                + $"{found.Asked.Tags.Reread?.After.Word()}: it is what the process made.");
        }

        if (study.WhyNone is not null || study.NothingHappened)
        {
            return;
        }

        if (found.Context.Before is { } before)
        {
            console.Paragraph("", $"It came at once, so the change since strip {StripId.ShortForm(before.Id)} is weighed, the last in "
                + "this bottle before: what was there already had another cause.");
        }

        foreach (var sentence in CauseWords.Tests(found))
        {
            console.Paragraph("", sentence);
        }

        foreach (var group in study.Groups.Where(g => g.Probability >= WorthReasons))
        {
            WriteGroup(console, group);
        }

        if (!study.Pairs.IsEmpty)
        {
            console.Line("");
            console.Paragraph("", string.Join(' ', CauseWords.Pairs(study)));
        }

        var rest = study.Ranked
            .Where(c => !IsTold(study, c))
            .Select(c => $"{c.Of.Name} [{c.Of.Key}] {Numbers.Percent(c.Probability)}")
            .ToList();
        if (rest.Count > 0 || study.NothingProbability >= 0.01)
        {
            console.Line("");
            console.Paragraph(
                "Also possible: ",
                string.Join("; ", rest.Append($"natural scatter alone {Numbers.Percent(study.NothingProbability)}")) + ".");
        }

        WriteSteps(console, study.Steps);
        console.Paragraph("", CauseWords.Last);
    }

    private static bool IsTold(CauseStudy study, Cause cause) =>
        study.Groups.First(g => g.Family == cause.Of.Family) is { Probability: >= WorthReasons } group
            && (cause.Probability >= WorthReasons || cause == group.Causes[0]);

    private static void WriteGroup(IAnsiConsole console, CauseGroup group)
    {
        console.Line("");
        console.Line($"{Numbers.Capital(group.Family.Name)}, {Numbers.Percent(group.Probability)}");
        foreach (var cause in group.Causes.Where((c, i) => i == 0 || c.Probability >= WorthReasons))
        {
            console.Paragraph(
                "  ", $"{Numbers.Capital(cause.Of.Name)} [{cause.Of.Key}], {Numbers.Percent(cause.Probability)}");
            Observations(console, "    for:     ", cause.Supporting);
            Observations(console, "    against: ", cause.Contradicting);
            if (!cause.Circumstances.IsEmpty)
            {
                console.Paragraph("    besides: ", string.Join(' ', cause.Circumstances));
            }

            console.Paragraph("    check:   ", cause.Of.FirstCheck);
        }
    }

    private static void Observations(IAnsiConsole console, string lead, ImmutableArray<Observation> observations)
    {
        if (observations.IsEmpty)
        {
            return;
        }

        var more =
            observations.Length > Patches ? string.Create(CultureInfo.InvariantCulture, $"; and {observations.Length - Patches} more") : "";
        console.Paragraph(lead, string.Join("; ", observations.Take(Patches).Select(o =>
            $"{o.PatchName} {o.Channel.Word()} {Numbers.Deviation(o.Deviation)} (it would make {Numbers.Deviation(o.Expected)})")) + more
                + ".");
    }

    private static void WriteSteps(IAnsiConsole console, ImmutableArray<string> steps)
    {
        console.Line("");
        console.Line("What to do, in order:");
        foreach (var (i, step) in steps.Index())
        {
            console.Paragraph(string.Create(CultureInfo.InvariantCulture, $"{i + 1,2}. "), step);
        }

        console.Line("");
    }
}
