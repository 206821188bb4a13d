using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Reads the line rules of a profile and checks what each may name.</summary>
internal static class RuleChecks
{
    /// <summary>The rule, or null when it cannot be read; what is wrong goes to <paramref name="errors"/>.</summary>
    public static LineRule? Read(JsonElement element, string pointer, NumberFormat number, JsonFile errors)
    {
        var meaning = ProfileWords.Meaning(element.GetProperty("means").GetString()!);
        var text = element.Get("template", e => e.GetString(), null);
        var pattern = element.Get("pattern", e => e.GetString(), null);
        var key = text is null ? "pattern" : "template";
        try
        {
            var rule = new LineRule(meaning, text is null ? null : LineTemplate.Parse(text), pattern);
            CheckSlots(meaning, Slots(rule, number), message => errors.Add($"{pointer}/{key}", message));
            return rule;
        }
        catch (Exception e) when (e is TemplateException or ArgumentException or NotSupportedException)
        {
            errors.Add(
                $"{pointer}/{key}",
                e is TemplateException ? e.Message : $"'{pattern}' is no pattern for the linear-time engine: {e.Message}");
            return null;
        }
    }

    /// <summary>The slots a rule fills: channels, or the next value.</summary>
    public static IReadOnlyList<int> Slots(LineRule rule, NumberFormat number)
    {
        if (rule.Template is { } template)
        {
            return [.. template.Parts.Select(SlotOf).Where(s => s >= 0).Distinct()];
        }

        var pattern = new PatternMatcher(rule.Pattern!, number);
        return pattern.UnknownGroups.FirstOrDefault() is { } unknown
            ? throw new ArgumentException($"group '{unknown}' is no place; expected red, green, blue, visual or value.")
            : [.. pattern.Slots];
    }

    private static int SlotOf(TemplatePart part) => part switch
    {
        TemplatePart.ChannelValue value => (int)value.Channel,
        TemplatePart.NextValue => LineMatch.NextSlot,
        _ => -1,
    };

    private static void CheckSlots(LineMeaning meaning, IReadOnlyList<int> slots, Action<string> refuse)
    {
        switch (meaning)
        {
            case LineMeaning.Reading when slots.Count == 0:
                refuse("A reading needs a density; expected a place such as {red} for one channel at least.");
                break;
            case LineMeaning.Reading when slots.Contains(LineMatch.NextSlot):
                refuse("{value} belongs to lines that mean 'channel'; a reading names its channels: {red}, {green}, {blue}, {visual}.");
                break;
            case LineMeaning.Partial when slots.Count != 1:
                refuse("A line that means 'channel' holds one density; expected one of {red}, {green}, {blue}, {visual} or {value}.");
                break;
            case not (LineMeaning.Reading or LineMeaning.Partial) when slots.Count > 0:
                refuse(
                    $"A line that means '{ProfileWords.Word(meaning)}' holds no density; use {{number}}, {{word}} or {{skip}} for what "
                    + "varies.");
                break;
        }
    }
}

/// <summary>Which channels an instrument sends, by its profile.</summary>
public static class ReadingChannels
{
    /// <summary>
    /// The channels that every reading carries, by the rules and the samples, in the usual order. Empty where no channel is in all of them:
    /// an instrument that sends the visual density in one mode and the colours in another.
    /// </summary>
    public static ImmutableArray<Channel> Always(DeviceProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        var readings = Whole(profile).Append(profile.Assembly?.Order ?? []).Where(channels => channels.Any())
            .Concat(profile.Samples.Select(s => s.Densities?.Present).OfType<ImmutableArray<Channel>>().Select(c => c.AsEnumerable()))
            .Select(c => c.ToHashSet())
            .ToList();
        return [.. Channels.All.Where(c => readings.TrueForAll(r => r.Contains(c)))];
    }

    private static IEnumerable<IEnumerable<Channel>> Whole(DeviceProfile profile) => profile.Rules
        .Where(r => r.Meaning == LineMeaning.Reading)
        .Select(r => RuleChecks.Slots(r, profile.Number).Select(s => (Channel)s));
}
