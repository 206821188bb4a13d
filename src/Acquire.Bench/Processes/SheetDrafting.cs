using Acquire.Bench.Files;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Processes;

/// <summary>What a new process sheet begins with.</summary>
public abstract record SheetOrigin
{
    private SheetOrigin()
    {
    }

    /// <param name="Sheet">Key or name of the sheet to copy; null for the one of the new key.</param>
    public sealed record CopyOf(string? Sheet) : SheetOrigin;

    /// <summary>Home-made strips.</summary>
    /// <param name="Keys">Keys of the patches in reading order.</param>
    public sealed record Patches(ImmutableArray<string> Keys) : SheetOrigin;

    /// <summary>A wedge of equal steps.</summary>
    /// <param name="Increment">Log exposure from step to step.</param>
    public sealed record Wedge(int Steps, decimal Increment) : SheetOrigin;
}

/// <summary>A process sheet to begin, for the user to edit.</summary>
/// <param name="Key">Lower-case letters, digits and hyphens.</param>
public sealed record SheetRequest(string Key, SheetOrigin Origin)
{
    /// <summary>What the process is called; null for its key, or for the name of the sheet that is copied.</summary>
    public string? Name { get; init; }

    /// <summary>The density status of strips that are not copied.</summary>
    public DensityStatus Status { get; init; } = DensityStatus.M;

    public bool IsReflection { get; init; }

    /// <summary>Key of the layout that is marked; null for the first.</summary>
    public string? Layout { get; init; }

    /// <summary>Which place on the strip, counted from 1, is which patch.</summary>
    public ImmutableArray<(string Patch, int Place)> Marks { get; init; } = [];

    /// <summary>The file to write; null for the user's own sheet of the key, where it is found by name.</summary>
    public string? File { get; init; }

    /// <summary>Whether a file that is there is replaced.</summary>
    public bool Replace { get; init; }
}

/// <summary>Begins process sheets.</summary>
public sealed class SheetDrafting(ProcessLibrary library)
{
    private const int LongestKey = 40;

    /// <summary>Makes a sheet and writes it; gives it with its file.</summary>
    /// <exception cref="BenchException">The key is none, or the file is there or cannot be written.</exception>
    /// <exception cref="ProcessSheetException">There is no sheet to copy.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A patch, a step or a mark cannot be.</exception>
    public async Task<(ProcessSheet Sheet, string File)> WriteAsync(SheetRequest request, CancellationToken cancellationToken)
    {
        var sheet = Draft(request);
        var file = request.File ?? library.FileOf(request.Key);
        _ = Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(file))!);
        await WholeFile.At(file, request.Replace).WriteAsync(ProcessSheetWriter.Write(sheet), cancellationToken);
        return (sheet, file);
    }

    private ProcessSheet Draft(SheetRequest request)
    {
        // The key becomes a file name.
        var key = request.Key;
        if (key.Length is 0 or > LongestKey || !key.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'))
        {
            throw new BenchException($"'{key}' is no key; expected up to 40 lower-case letters, digits and hyphens, such as my-c41.");
        }

        var name = request.Name ?? key;
        var sheet = request.Origin switch
        {
            SheetOrigin.CopyOf copy => SheetDrafts.Copy(library.Get(copy.Sheet ?? key), key, request.Name),
            SheetOrigin.Patches home => SheetDrafts.OfPatches(key, name, request.Status, home.Keys),
            SheetOrigin.Wedge wedge => SheetDrafts.OfWedge(key, name, request.Status, wedge.Steps, wedge.Increment),
            var other => throw new InvalidOperationException($"No sheet begins with {other}."),
        };
        sheet = request.IsReflection ? sheet with { Geometry = DensityGeometry.Reflection } : sheet;
        return request.Marks.Aggregate(
            sheet, (s, mark) => LayoutMarks.Mark(s, request.Layout ?? s.Layouts[0].Key, mark.Patch, mark.Place));
    }
}
