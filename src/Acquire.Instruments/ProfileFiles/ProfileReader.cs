using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Acquire.Formats;
using Acquire.Formats.Json;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>
/// Reads a device profile from its JSON and proves it by its samples. Comments and trailing commas are allowed. The three stages — the JSON
/// and its schema, the sections among themselves, the samples — each report everything they find before the next begins.
/// </summary>
public static class ProfileReader
{
    private static readonly Lazy<JsonForm> Form = new(() => new JsonForm(EmbeddedProfiles.Schema()));

    /// <param name="text">The JSON.</param>
    /// <param name="fileName">The file as the user named it, for messages.</param>
    /// <exception cref="ProfileException">It cannot be used; all errors of the stage that failed, with line and column.</exception>
    public static DeviceProfile Read(string text, string fileName)
    {
        using var file = new JsonFile(text, fileName, Form.Value, problems => new ProfileException([.. problems.Select(Error)]));

        // Each stage relies on the one before, so its errors would only repeat in other words what is wrong already.
        var profile = Convert(file.Root, Hash(text), file) with { Text = text };
        file.ThrowIfAny();
        SampleProof.Prove(profile, file);
        file.ThrowIfAny();
        return profile;
    }

    private static ProfileError Error(FileProblem problem) =>
        new(problem.Place.File, problem.Place.Line, problem.Place.Column ?? 0, problem.Message);

    private static DeviceProfile Convert(JsonElement root, string hash, JsonFile errors)
    {
        var framing = ProfileSections.Framing(ProfileSections.Section(root, "framing"));
        var number = ProfileSections.Number(ProfileSections.Section(root, "number"));
        ProfileChecks.Framing(framing, errors);
        ProfileChecks.Number(number, errors);
        var rules = root.GetProperty("lines").EnumerateArray()
            .Select((e, i) => RuleChecks.Read(e, FormattableString.Invariant($"/lines/{i}"), number, errors))
            .OfType<LineRule>().ToImmutableArray();
        var assembly = root.Get("assembly", ProfileSections.Assembly, null!);
        if (rules.Length == root.GetProperty("lines").GetArrayLength())
        {
            ProfileChecks.Assembly(rules, assembly, number, errors);
        }

        var link = ProfileSections.Link(ProfileSections.Section(root, "link"));
        return new DeviceProfile(
            root.GetProperty("name").GetString()!,
            root.GetProperty("title").GetString()!,
            root.Get("description", e => e.GetString()!, ""),
            link,
            framing,
            number,
            rules,
            assembly,
            [.. Samples(root, errors)],
            hash)
        {
            Commands = CommandSections.Read(root, link, errors),
        };
    }

    private static IEnumerable<ProfileSample> Samples(JsonElement root, JsonFile errors)
    {
        foreach (var (index, element) in root.GetProperty("samples").EnumerateArray().Index())
        {
            var gives = element.GetProperty("gives");
            if (gives.ValueKind == JsonValueKind.Object && gives.EnumerateObject().Any(p => InstrumentIdentity.Places.Contains(p.Name)))
            {
                if (IdentityProblem(root, gives) is { } problem)
                {
                    errors.Add(FormattableString.Invariant($"/samples/{index}/gives"), problem);
                    continue;
                }

                yield return ProfileSections.IdentitySample(element);
                continue;
            }

            var impossible = gives.ValueKind == JsonValueKind.Object
                ? gives.EnumerateObject()
                    .Where(p => !p.Value.TryGetDecimal(out var value) || !Density.IsPossible(value)).Select(p => p.Name).FirstOrDefault()
                : null;
            if (impossible is null)
            {
                yield return ProfileSections.Sample(element);
            }
            else
            {
                errors.Add(
                    FormattableString.Invariant($"/samples/{index}/gives/{impossible}"), "Expected a density with six decimals at most.");
            }
        }
    }

    private static string? IdentityProblem(JsonElement root, JsonElement gives) =>
        !gives.EnumerateObject().All(p => InstrumentIdentity.Places.Contains(p.Name))
            ? "A line gives densities or says what the instrument is; expected one or the other."
            : !root.TryGetProperty("commands", out var commands) || !commands.TryGetProperty("identify", out _)
                ? "The profile does not ask the instrument what it is; expected commands with identify, or another sample."
                : null;

    private static string Hash(string text) => System.Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
