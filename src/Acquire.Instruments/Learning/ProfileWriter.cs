using System.Text.Encodings.Web;
using System.Text.Json;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>
/// Writes a profile as the JSON that <see cref="ProfileReader"/> reads, in the order of the format's description; what has its default is
/// left out.
/// </summary>
public static class ProfileWriter
{
    private static readonly JsonSerializerOptions Readable = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The profile as a file; its hash is not written.</summary>
    public static string Write(DeviceProfile profile)
    {
        var sections = new List<string>
        {
            $"\"name\": {Text(profile.Name)}",
            $"\"title\": {Text(profile.Title)}",
            $"\"description\": {Text(profile.Description)}",
            $"\"link\": {SectionWriter.Link(profile.Link)}",
            $"\"framing\": {SectionWriter.Framing(profile.Framing)}",
            $"\"number\": {SectionWriter.Number(profile.Number)}",
            $"\"lines\": {List(profile.Rules.Select(Rule))}",
        };
        if (profile.Assembly is { } assembly)
        {
            var order = string.Join(", ", assembly.Order.Select(c => Text(c.Word())));
            sections.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"\"assembly\": {{ \"order\": [{order}], \"timeoutMs\": {assembly.Timeout.TotalMilliseconds} }}"));
        }

        sections.Add($"\"samples\": {List(profile.Samples.Select(Sample))}");
        return $"{{\n  {string.Join(",\n  ", sections)}\n}}\n";
    }

    internal static string Text(string text) => JsonSerializer.Serialize(text, Readable);

    private static string List(IEnumerable<string> entries) => $"[\n    {string.Join(",\n    ", entries)}\n  ]";

    private static string Rule(LineRule rule) =>
        $"{{ {(rule.Template is { } t ? $"\"template\": {Text(t.Text)}" : $"\"pattern\": {Text(rule.Pattern!)}")}, "
            + $"\"means\": {Text(ProfileWords.Word(rule.Meaning))} }}";

    private static string Sample(ProfileSample sample)
    {
        var gives = sample.Densities is { } densities
            ? $"{{ {string.Join(", ", densities.Present.Select(c => $"{Text(c.Word())}: {densities[c]}"))} }}"
            : Text(ProfileWords.Word(sample.Meaning));
        return $"{{ \"lines\": [{string.Join(", ", sample.Lines.Select(Text))}], \"gives\": {gives} }}";
    }
}
