using System.Text;

namespace Acquire.Instruments.Profiles;

/// <summary>Cuts the text of a template into parts, each with the character (from 1) at which it begins.</summary>
internal static class TemplateScanner
{
    public const int WidestPlace = 64;

    public static List<(TemplatePart Part, int Position)> Scan(string text, bool isAnswer = false)
    {
        var parts = new List<(TemplatePart Part, int Position)>();
        for (var at = 0; at < text.Length;)
        {
            var start = at;
            TemplatePart part = IsBlank(text[at]) ? Blanks(text, ref at)
                : IsPlace(text, at) ? Place(text, ref at, isAnswer)
                : Literal(text, ref at);
            parts.Add((part, start + 1));
        }

        return Trim(text, parts);
    }

    private static bool IsBlank(char c) => c is ' ' or '\t';

    private static bool IsPlace(string text, int at) => text[at] == '{' && !text.AsSpan(at).StartsWith("{{");

    private static TemplatePart Blanks(string text, ref int at)
    {
        var start = at;
        while (at < text.Length && IsBlank(text[at]))
        {
            at++;
        }

        return at < text.Length && IsPlace(text, at) && PlaceText(text, at).Contains(':')
            ? new TemplatePart.Literal(text[start..at])
            : new TemplatePart.Blanks();
    }

    private static TemplatePart.Literal Literal(string text, ref int at)
    {
        var literal = new StringBuilder();
        for (; at < text.Length && !IsBlank(text[at]) && !IsPlace(text, at); at++)
        {
            var c = text[at];
            if (c > '\u00FF')
            {
                throw new TemplateException(
                    text, at + 1, $"'{c}' is no single byte; an instrument sends ASCII or Latin-1 characters only.");
            }

            if (c is '{' or '}' && (++at >= text.Length || text[at] != c))
            {
                throw new TemplateException(
                    text, at, "a closing brace without an opening one; write }} for a brace that stands on the line.");
            }

            literal.Append(c);
        }

        return new TemplatePart.Literal(literal.ToString());
    }

    private static string PlaceText(string text, int at)
    {
        var end = text.IndexOf('}', at);
        return end < 0
            ? throw new TemplateException(text, at + 1, "the place is not closed; expected a }, or {{ for a brace that stands on the line.")
            : text[(at + 1)..end];
    }

    private static TemplatePart Place(string text, ref int at, bool isAnswer)
    {
        var inside = PlaceText(text, at);
        var position = at + 1;
        at += inside.Length + 2;
        var colon = inside.IndexOf(':');
        var name = colon < 0 ? inside : inside[..colon];
        int? width = colon < 0 ? null : Width(text, position, inside[(colon + 1)..]);
        return name switch
        {
            _ when isAnswer && InstrumentIdentity.Places.Contains(name) => new TemplatePart.Word(width, name),
            "value" when !isAnswer => new TemplatePart.NextValue(width),
            "word" => new TemplatePart.Word(width),
            "number" => new TemplatePart.Number(width),
            "skip" when width is null => new TemplatePart.Skip(),
            "letter" when width is null => new TemplatePart.Letter(),
            "leader" when width is null => new TemplatePart.Leader(),
            "skip" or "letter" or "leader" =>
                throw new TemplateException(text, position, $"{{{name}}} takes no width; use {{word}} with a width."),
            _ when !isAnswer && name.Length > 1 && Channels.TryParse(name, out var channel) && channel.Word() == name =>
                new TemplatePart.ChannelValue(channel, width),
            _ => throw new TemplateException(
                text, position,
                $"'{{{inside}}}' is no place; expected {(isAnswer ? LineTemplate.KnownAnswerPlaces : LineTemplate.KnownPlaces)}, with a "
                + $"width "
                + $"where wanted, such as {(isAnswer ? "{serial:5}" : "{red:5}")}."),
        };
    }

    private static int Width(string text, int position, string digits) =>
        int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var width) && width is > 0 and <= WidestPlace
            ? width
            : throw new TemplateException(
                text, position, $"'{digits}' is no width; expected 1 to {WidestPlace} characters, such as {{red:5}}.");

    /// <summary>Blanks around a line mean nothing, so blanks around a template are left out.</summary>
    private static List<(TemplatePart Part, int Position)> Trim(string text, List<(TemplatePart Part, int Position)> parts)
    {
        if (parts is [(TemplatePart.Blanks, _), ..])
        {
            parts.RemoveAt(0);
        }

        if (parts is [.., (TemplatePart.Blanks, _)])
        {
            parts.RemoveAt(parts.Count - 1);
        }

        return parts.Count > 0
            ? parts
            : throw new TemplateException(text, 1, "the template is empty; blank lines are ignored without a rule.");
    }
}

/// <summary>What a template must keep to so that one pass over the line, without going back, reads it in one way only.</summary>
internal static class TemplateRules
{
    public static void Check(string text, List<(TemplatePart Part, int Position)> parts)
    {
        CheckNeighbours(text, parts);
        CheckChannels(text, parts);
    }

    private static void CheckNeighbours(string text, List<(TemplatePart Part, int Position)> parts)
    {
        for (var i = 0; i + 1 < parts.Count; i++)
        {
            var (part, position) = parts[i];
            var next = parts[i + 1].Part;
            if (part is TemplatePart.Skip && FirstSolid(parts, i + 1) is not TemplatePart.Literal)
            {
                throw new TemplateException(
                    text, position, "{skip} would not know where to stop; expected characters of the line after it, or the end.");
            }

            // A number ends where a letter begins, so only there two places may touch.
            if (IsOpen(part) && IsPlace(next) && !(next is TemplatePart.Letter && part is not TemplatePart.Word))
            {
                throw new TemplateException(
                    text, position,
                    "two places stand side by side; expected a blank or characters between them, or a width on the first, such as "
                    + "{red:5}.");
            }
        }
    }

    private static void CheckChannels(string text, List<(TemplatePart Part, int Position)> parts)
    {
        // A channel that stands twice must be the same both times, which the line shows; so it may.
        if (parts.Any(p => p.Part is TemplatePart.NextValue) && parts.Any(p => p.Part is TemplatePart.ChannelValue))
        {
            throw new TemplateException(text, 1, "{value} stands beside a named channel; expected one or the other.");
        }
    }

    /// <summary>The first part from <paramref name="index"/> on that is not only blanks.</summary>
    private static TemplatePart? FirstSolid(List<(TemplatePart Part, int Position)> parts, int index) =>
        parts.Skip(index).Select(p => p.Part).FirstOrDefault(
            p => p is not TemplatePart.Blanks && !(p is TemplatePart.Literal literal && string.IsNullOrWhiteSpace(literal.Text)));

    private static bool IsPlace(TemplatePart part) => part is not (TemplatePart.Literal or TemplatePart.Blanks);

    private static bool IsOpen(TemplatePart part) => part
        is TemplatePart.ChannelValue { Width: null } or TemplatePart.NextValue { Width: null }
        or TemplatePart.Word { Width: null } or TemplatePart.Number { Width: null };
}
