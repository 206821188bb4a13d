using System.Text;
using System.Text.RegularExpressions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes rules for the lines that hold no reading: headers, footers, messages.</summary>
internal static partial class OtherLines
{
    /// <summary>A rule for each kind of line.</summary>
    /// <exception cref="DeclinedException">A rule would also take lines that are readings.</exception>
    public static ImmutableArray<LineRule> Rules(IEnumerable<string> lines) =>
        [.. lines.GroupBy(Kind).Select(g => Rule([.. g.Distinct()])).DistinctBy(r => r.Template!.Text)];

    private static string Kind(string line)
    {
        var words = TextGeneralizer.Words(line);
        return FormattableString.Invariant($"{words.Length} {Digits().Replace(words[0], "0")}");
    }

    private static LineRule Rule(ImmutableArray<string> lines)
    {
        var template = TextGeneralizer.Of(lines);
        // A template of places alone would swallow every later line, readings among them.
        return Places().Replace(template, "").Trim().Length == 0
            ? throw new DeclinedException(
                $"The line '{lines[0].Trim()}' holds nothing but what varies; a rule that ignores it would ignore readings too. If it "
                + "belongs to the reading, give all channels of the display with --channels.")
            : new LineRule(Meaning(lines[0]), LineTemplate.Parse(template), null);
    }

    private static LineMeaning Meaning(string line) =>
        Error().IsMatch(line) ? LineMeaning.Error
        : Calibration().IsMatch(line) ? LineMeaning.Calibration
        : Beyond().IsMatch(line) ? LineMeaning.OverRange
        : LineMeaning.Ignored;

    [GeneratedRegex("[+-]?[0-9]*[.,]?[0-9]+")]
    private static partial Regex Digits();

    [GeneratedRegex(@"\{[a-z]+\}")]
    private static partial Regex Places();

    [GeneratedRegex(@"^\W*(?:err|error|fault|fail|lamp)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Error();

    [GeneratedRegex(@"^\W*(?:cal|calib|calibrate|calibrating|calibration|zero|zeroing)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Calibration();

    [GeneratedRegex(@"\bover[ -]?(?:range|load)?\s*$|\b(?:beyond|out of) range\b", RegexOptions.IgnoreCase)]
    private static partial Regex Beyond();
}

/// <summary>Finds over-range marks: lines that fit a template but for something else in the place of a density.</summary>
internal static partial class MarkFinder
{
    private const string AnyNumber = "[+-]?[0-9]*[.,]?[0-9]+";

    /// <summary>The marks on a line; empty when it fits none of the templates.</summary>
    /// <param name="format">How densities are written.</param>
    /// <param name="allowAll">Whether all channels of a line may be beyond the range; otherwise that is a heading rather.</param>
    public static ImmutableArray<string> On(string line, IEnumerable<LineTemplate> templates, NumberFormat format, bool allowAll)
    {
        foreach (var template in templates)
        {
            var match = Regex.Match(line, Holes(template), RegexOptions.NonBacktracking | RegexOptions.CultureInvariant);
            if (!match.Success)
            {
                continue;
            }

            var fields = match.Groups.Values.Skip(1).Where(g => g.Success).Select(g => g.Value.Trim(' ')).ToList();
            ImmutableArray<string> marks = [.. fields.Where(f => Mark().IsMatch(f))];
            // All places filled with words is a heading of columns, unless the display showed over-range in all channels.
            if (!marks.IsEmpty && fields.All(f => Mark().IsMatch(f) || IsNumber(f, format))
                && (IsOfOneChannel(template) || allowAll || marks.Length < fields.Count))
            {
                return [.. marks.Distinct()];
            }
        }

        return [];
    }

    private static bool IsOfOneChannel(LineTemplate template) =>
        template.Parts.Select(p => p is TemplatePart.ChannelValue value ? value.Channel : (Channel?)null).OfType<Channel>().Distinct()
            .Count() <= 1;

    /// <summary>Whether a line fits a template but for what stands in the places of densities.</summary>
    public static bool Resembles(string line, IEnumerable<LineTemplate> templates) =>
        templates.Where(t => t.Parts.Any(p => p is TemplatePart.Literal)).Any(
            t => Regex.IsMatch(line, Holes(t), RegexOptions.NonBacktracking | RegexOptions.CultureInvariant));

    private static string Holes(LineTemplate template)
    {
        var pattern = string.Concat(template.Parts.Select((part, i) => part switch
        {
            TemplatePart.Literal literal => Regex.Escape(literal.Text),
            TemplatePart.Blanks => OpensValue(template, i) ? "" : "[ \t]+",
            TemplatePart.ChannelValue { Width: { } width } => Field(width),
            TemplatePart.NextValue { Width: { } width } => Field(width),
            TemplatePart.ChannelValue or TemplatePart.NextValue => Open(template, i),
            TemplatePart.Word => "[^ \t]+?",
            TemplatePart.Number { Width: { } width } => FormattableString.Invariant($"[0-9+., -]{{{width}}}"),
            TemplatePart.Number => "[0-9+.,-]+?",
            TemplatePart.Letter => "[A-Za-z]?",
            TemplatePart.Leader => "(?:[.]+|_+)",
            _ => ".*?",
        }));
        var lead = template.Parts[0] is TemplatePart.ChannelValue { Width: not null } or TemplatePart.NextValue { Width: not null }
            ? ""
            : "[ \t]*";
        return $@"\A{lead}{pattern}[ \t]*\z";
    }

    /// <summary>Whether the part is a blank between a label and a density, whose place a mark may take.</summary>
    private static bool OpensValue(LineTemplate template, int index) =>
        index > 0 && index + 1 < template.Parts.Length && template.Parts[index] is TemplatePart.Blanks
            && template.Parts[index - 1] is TemplatePart.Literal
        && template.Parts[index + 1] is TemplatePart.ChannelValue { Width: null } or TemplatePart.NextValue { Width: null };

    private static string Open(LineTemplate template, int index)
    {
        const string Value = $"({AnyNumber}|[^ \t]+?)";
        return index > 0 && OpensValue(template, index - 1) ? $"(?:[ \t]+{Value}|([^ \t]+?))" : $" ?{Value}";
    }

    private static string Field(int width) => FormattableString.Invariant($"(.{{{width}}})");

    // No digits, a bound such as >4.0, or nothing but nines: what is left of a garbled number is none of these.
    [GeneratedRegex(@"^(?:[^0-9\s.,+]|[^0-9\s]{2,8}|[<>][0-9]{0,2}[.,]?[0-9]{0,3}|9{1,2}[.,]?9{2,3})$")]
    private static partial Regex Mark();

    private static bool IsNumber(string field, NumberFormat format)
    {
        var (bytes, at) = (Encoding.Latin1.GetBytes(field), 0);
        return new NumberReader(format).Read(bytes, ref at, padded: true, out _) is null && at == bytes.Length;
    }
}
