namespace Acquire.Instruments.Profiles;

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

            if (IsOpen(part) && IsPlace(next))
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
        var seen = new HashSet<Channel?>();
        foreach (var (part, position) in parts)
        {
            var (isValue, channel) = part switch
            {
                TemplatePart.ChannelValue value => (true, (Channel?)value.Channel),
                TemplatePart.NextValue => (true, null),
                _ => (false, null),
            };
            if (isValue && !seen.Add(channel))
            {
                throw new TemplateException(
                    text, position,
                    $"{{{channel?.Word() ?? "value"}}} stands here for the second time; use {{number}} for digits that do not count.");
            }
        }

        if (seen.Count > 1 && seen.Contains(null))
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
