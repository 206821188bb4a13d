using System.Text;
using System.Text.RegularExpressions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes a profile, not yet proved, of one interpretation of a capture.</summary>
internal static partial class ProfileDraft
{
    private const int MostMarks = 4;
    private static readonly TimeSpan BetweenLines = TimeSpan.FromSeconds(2);

    /// <summary>The profiles that the interpretation leads to: more than one where a
    /// word alone on its line may be a mark or a heading.</summary>
    /// <exception cref="DeclinedException">The lines do not make templates.</exception>
    public static IEnumerable<DeviceProfile> Of(LearningInput input, Capture capture, Interpretation interpretation)
    {
        var format = NumberHabits.Of(interpretation);
        var rules = ReadingRules(interpretation, new TemplateBuilder(format));
        ImmutableArray<LineTemplate> templates = [.. rules.Select(r => r.Template!)];
        var taken = interpretation.Readings.SelectMany(r => r).Select(l => l.Index).ToHashSet();
        var matchers = templates.Select(t => new TemplateMatcher(t, format)).ToList();
        ImmutableArray<string> others = [.. capture.Lines.Where(
            (l, i) => !taken.Contains(i) && !matchers.Any(m => m.Match(Encoding.Latin1.GetBytes(l)).Fits))];
        var found = others.Select(l => (Line: l, Marks: MarkFinder.On(l, templates, format, Shown.HasAllBeyond(input)))).ToList();
        ImmutableArray<string> marks = [.. found.SelectMany(f => f.Marks).Distinct()];
        var nines = Nines(input, interpretation.Scanner, capture.Lines.Where((_, i) => !taken.Contains(i)).Except(others));
        var bare = interpretation.IsChannelPerLine && templates.All(t => !t.Parts.Any(p => p is TemplatePart.Literal));
        // On a line without labels HI may be a mark or a heading; each way makes a profile, and the proof decides.
        foreach (var chosen in bare ? Subsets(marks) : [marks])
        {
            ImmutableArray<string> rest = [.. found.Where(f => !f.Marks.Any(chosen.Contains)).Select(f => f.Line)];
            if (rest.FirstOrDefault(l => MarkFinder.Resembles(l, templates)) is { } alike)
            {
                throw new DeclinedException(
                    $"The line '{alike.Trim()}' looks like a reading with something else in a density's place. Give what the display "
                    + "showed for each, in order.");
            }

            yield return Profile(
                input, capture, interpretation, format with { OverRange = [.. chosen.Union(nines)] },
                [.. rules, .. OtherLines.Rules(rest)]);
        }
    }

    /// <summary>Numbers of nines only on lines like readings, where the display
    /// showed over-range: they are marks and no densities.</summary>
    private static IEnumerable<string> Nines(LearningInput input, ValueScanner scanner, IEnumerable<string> lines) =>
        input.Shown.All(s => s.IsWhole)
            ? []
            : lines.SelectMany(l => scanner.Scan(l).Select(s => s.In(l))).Where(t => t.Length > 2 && t.All(c => c is '9' or '.' or ','))
                .Distinct();

    private static IEnumerable<ImmutableArray<string>> Subsets(ImmutableArray<string> marks) =>
        marks.Length > MostMarks
            ? [marks]
            : Enumerable.Range(0, 1 << marks.Length).Select(bits => marks.Where((_, i) => (bits & (1 << i)) != 0).ToImmutableArray());

    private static DeviceProfile Profile(
        LearningInput input, Capture capture, Interpretation interpretation, NumberFormat format, ImmutableArray<LineRule> rules) => new(
            input.Name,
            "Learned from a capture",
            $"Learned from {input.Shown.Length} readings. Line ends seen: "
            + $"{capture.LineEnds}."
            + (interpretation.Scanner.IsRounded ? " The line has more decimals than the display; readings keep them." : "")
            + (rules.Any(r => HasTouchingNumber(r.Template!)) ? " A number that touches a density is as wide as on the lines seen." : "")
            + $"{LearnedLink.Words(input.Link, capture.TopBit)}",
            LearnedLink.Of(input.Link, capture.TopBit),
            capture.Framing,
            format,
            rules,
            interpretation.IsChannelPerLine ? new AssemblySettings(interpretation.Order, BetweenLines) : null,
            [],
            "");

    private static ImmutableArray<LineRule> ReadingRules(Interpretation interpretation, TemplateBuilder builder)
    {
        if (!interpretation.IsChannelPerLine)
        {
            return Rules(builder.Build(interpretation.Readings.Select(r => r[0]), c => c.Word()), LineMeaning.Reading);
        }

        // Lines whose labels do not tell the channels apart are told apart by their order.
        var byPlace =
            Enumerable.Range(0, interpretation.Order.Length).Select(i => interpretation.Readings.Select(r => r[i]).ToList()).ToList();
        var texts = byPlace.Select(l => builder.Build(l, _ => "value").Select(t => Width().Replace(t, "}")).Distinct().ToList()).ToList();
        var labelled = texts.SelectMany(t => t).Distinct().Count() == texts.Sum(t => t.Count);
        return Rules(
            labelled
                ? [.. byPlace.SelectMany(l => builder.Build(l, c => c.Word()))]
                : builder.Build(byPlace.SelectMany(l => l), _ => "value"),
            LineMeaning.Partial);
    }

    private static bool HasTouchingNumber(LineTemplate template) => template.Parts.Zip(template.Parts.Skip(1)).Any(
        p => p is (TemplatePart.Number { Width: not null }, TemplatePart.ChannelValue or TemplatePart.NextValue));

    [GeneratedRegex(@":[0-9]+\}")]
    private static partial Regex Width();

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
}

/// <summary>The line settings of a learned profile: those in force when the bytes came, with the parity that the top bits prove.</summary>
internal static class LearnedLink
{
    /// <param name="known">How the line was set; null where that is not known.</param>
    /// <param name="topBit">What the top bit of the bytes carries.</param>
    /// <remarks>The top bit is cleared besides real parity: a port that takes seven bits never sets
    /// it, and a capture made at eight bits can be replayed.</remarks>
    public static LinkSettings Of(LinkSettings? known, TopBit topBit)
    {
        var link = (known ?? new LinkSettings()) with { MaskTopBit = known is { MaskTopBit: true } || topBit != TopBit.Data };
        return Proved(known, topBit) is { } parity ? link with { DataBits = 7, Parity = parity } : link;
    }

    /// <summary>What is to be said about them in the profile's description, with a blank before it; empty for nothing.</summary>
    public static string Words(LinkSettings? known, TopBit topBit)
    {
        var parity = topBit switch
        {
            TopBit.Even => " Seven data bits with even parity",
            TopBit.Odd => " Seven data bits with odd parity",
            TopBit.Mark => " The top bit was always set; it is cleared.",
            _ => "",
        };
        var how = topBit is TopBit.Data or TopBit.Mark
            ? ""
            : Proved(known, topBit) is null ? ", received as eight bits; the top bit is cleared." : ", as the top bits show.";
        return parity + how + (known is null ? " The rate is not known from a capture: set it under link." : "");
    }

    /// <summary>The parity of seven-bit text that was received as eight bits without
    /// parity; null where none shows, or the line is not known.</summary>
    private static LineParity? Proved(LinkSettings? known, TopBit topBit) => (known, topBit) switch
    {
        ({ DataBits: 8, Parity: LineParity.None }, TopBit.Even) => LineParity.Even,
        ({ DataBits: 8, Parity: LineParity.None }, TopBit.Odd) => LineParity.Odd,
        _ => null,
    };
}
