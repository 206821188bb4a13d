using System.Collections.Immutable;
using System.Text.Json;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Domain.Strips;

namespace Acquire.Analysis.ProcessSheets;

/// <summary>Reads a process sheet from its JSON text.</summary>
public static class ProcessSheetReader
{
    /// <summary>Reads a sheet.</summary>
    /// <param name="text">The JSON text: an object with <c>key, name, status, layout, parameters, note</c>.</param>
    /// <param name="fileName">The file's name, for messages.</param>
    /// <exception cref="ProcessSheetException">
    /// The text is no JSON, or no process sheet. It lists every problem of form found, else every value that cannot be, each with
    /// file, line and path.
    /// </exception>
    public static ProcessSheet Read(string text, string fileName)
    {
        ArgumentNullException.ThrowIfNull(text);
        var root = ReadJson(text, fileName);
        var problems = new SpotProblems(fileName);
        var sheet = ReadSheet(root, problems);
        problems.ThrowIfAny();
        return sheet!;
    }

    private static JsonSpot ReadJson(string text, string fileName)
    {
        try
        {
            return JsonSpotReader.Read(text);
        }
        catch (JsonException e)
        {
            var line = (e.LineNumber ?? 0) + 1;
            var reason = e.Message.Split(" LineNumber:")[0];
            throw new ProcessSheetException($"{fileName}, line {line}: expected a process sheet in JSON. {reason}", e);
        }
    }

    private static ProcessSheet? ReadSheet(JsonSpot root, SpotProblems problems)
    {
        if (!problems.IsObject(root, "key", "name", "status", "layout", "parameters", "note"))
        {
            return null;
        }

        var key = problems.Text(root, "key");
        var name = problems.Text(root, "name");
        var status = ReadStatus(root, problems);
        var note = problems.OptionalText(root, "note");
        var layout = ReadLayout(root, problems);
        var parameters = problems.Items(root, "parameters").Select(p => ParameterReader.Read(p, problems)).ToList();
        return problems.Make(root, () => new ProcessSheet(key!, name!, status, layout!, [.. parameters.Select(p => p!)], note));
    }

    private static DensityStatus ReadStatus(JsonSpot root, SpotProblems problems)
    {
        var text = problems.Text(root, "status");
        switch (text?.ToUpperInvariant())
        {
            case "M":
                return DensityStatus.M;
            case "A":
                return DensityStatus.A;
            case "VISUAL":
                return DensityStatus.Visual;
            case not null:
                problems.Add(root.Member("status")!, $"'{text}' is no density status; expected M, A or visual.");
                break;
        }

        return default;
    }

    private static StripLayout? ReadLayout(JsonSpot root, SpotProblems problems)
    {
        if (root.Member("layout") is not { } layout)
        {
            problems.Add(root, "'layout' is missing; expected an object with name, patches.");
            return null;
        }

        if (!problems.IsObject(layout, "name", "patches"))
        {
            return null;
        }

        var name = problems.Text(layout, "name");
        var patches = problems.Items(layout, "patches").Select(p => ReadPatch(p, problems)).ToImmutableArray();
        return problems.Make(layout, () => new StripLayout(name!, [.. patches.Select(p => p!)]));
    }

    private static Patch? ReadPatch(JsonSpot spot, SpotProblems problems)
    {
        if (!problems.IsObject(spot, "key", "name"))
        {
            return null;
        }

        var (key, name) = (problems.Text(spot, "key"), problems.Text(spot, "name"));
        return problems.Make(spot, () => new Patch(key!, name!));
    }
}
