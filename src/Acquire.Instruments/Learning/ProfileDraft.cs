using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes a profile, not yet proved, of one interpretation of a capture.</summary>
internal static class ProfileDraft
{
    private static readonly TimeSpan BetweenLines = TimeSpan.FromSeconds(2);

    /// <exception cref="DeclinedException">The lines do not make templates.</exception>
    public static DeviceProfile Of(LearningInput input, Capture capture, Interpretation interpretation)
    {
        var format = NumberHabits.Of(interpretation, Shown.Decimals(input));
        var rules = ReadingRules(interpretation, new TemplateBuilder(format));
        var templates = rules.Select(r => r.Template!).ToList();
        var taken = interpretation.Readings.SelectMany(r => r).Select(l => l.Index).ToHashSet();
        var others = capture.Lines.Where((_, i) => !taken.Contains(i)).ToLookup(l => MarkFinder.On(l, templates).IsEmpty);
        format = format with { OverRange = [.. others[false].SelectMany(l => MarkFinder.On(l, templates)).Distinct()] };
        return new DeviceProfile(
            input.Name,
            "Learned from a capture",
            $"Learned from {input.Shown.Length} readings. Line ends seen: {capture.LineEnds}.{Parity(capture.TopBit)} The rate is not known from a capture: set it under link.",
            new LinkSettings { MaskTopBit = capture.TopBit != TopBit.Data },
            capture.Framing,
            format,
            [.. rules, .. OtherLines.Rules(others[true])],
            interpretation.IsChannelPerLine ? new AssemblySettings(interpretation.Order, BetweenLines) : null,
            [],
            "");
    }

    private static ImmutableArray<LineRule> ReadingRules(Interpretation interpretation, TemplateBuilder builder)
    {
        if (!interpretation.IsChannelPerLine)
        {
            return Rules(builder.Build(interpretation.Readings.Select(r => r[0]), c => c.Word()), LineMeaning.Reading);
        }

        // Lines whose labels do not tell the channels apart are told apart by their order.
        var byPlace = Enumerable.Range(0, interpretation.Order.Length).Select(i => interpretation.Readings.Select(r => r[i]).ToList()).ToList();
        var plain = byPlace.Select(l => builder.Build(l, _ => "value")).ToList();
        var labelled = plain.SelectMany(t => t).Distinct().Count() == plain.Sum(t => t.Length);
        return labelled
            ? Rules([.. byPlace.SelectMany(l => builder.Build(l, c => c.Word()))], LineMeaning.Partial)
            : Rules([.. plain.SelectMany(t => t).Distinct()], LineMeaning.Partial);
    }

    private static ImmutableArray<LineRule> Rules(ImmutableArray<string> templates, LineMeaning meaning)
    {
        try
        {
            return [.. templates.Select(t => new LineRule(meaning, LineTemplate.Parse(t), null))];
        }
        catch (TemplateException e)
        {
            throw new DeclinedException($"The lines of a reading make no template that reads in one way only. {e.Message}");
        }
    }

    private static string Parity(TopBit topBit) => topBit switch
    {
        TopBit.Even => " Seven data bits with even parity, received as eight bits; the top bit is cleared.",
        TopBit.Odd => " Seven data bits with odd parity, received as eight bits; the top bit is cleared.",
        TopBit.Mark => " The top bit was always set; it is cleared.",
        _ => "",
    };
}
