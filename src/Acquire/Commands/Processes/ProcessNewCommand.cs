using Acquire.Bench.Processes;

namespace Acquire.Commands.Processes;

/// <summary>
/// <c>acquire process new</c>: writes a process sheet for the user to edit, a copy of another or one for home-made strips.
/// </summary>
internal static class ProcessNewCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var key = Given.Argument<string>("process", "KEY", "Key of the new sheet: lower-case letters, digits and hyphens.");
        var from = Given.Option<string?>("--from", "KEY", "The sheet to copy; that of the same key when not given.");
        var patches = Given.Option<string?>(
            "--patches", "LIST", "For home-made strips: keys of the patches in reading order, e.g. \"dmin,ld,hd\".");
        var steps = new Option<int?>("--steps") { Description = "For a wedge: how many steps it has.", HelpName = "N" };
        var increment = Given.Option<decimal?>("--increment", "LOG-H", "For a wedge: log exposure from step to step, e.g. 0.15.");
        var status = Given.Option<string?>("--status", "STATUS", "Density status of a home-made strip: M, A or visual; M when not given.");
        var reflection = new Option<bool>("--reflection") { Description = "A home-made strip is on paper, read off it." };
        var name = new Option<string?>("--name") { Description = "What the process is called.", HelpName = "TEXT" };
        var layout = Given.Option<string?>("--layout", "KEY", "The strip layout in which --mark marks; the first when not given.");
        var mark = Given.Option<string[]>("--mark", "PATCH=PLACE", "Which place on the strip is which patch, e.g. ld=4; once per patch.");
        var replace = new Option<bool>("--replace") { Description = "The same as --force.", Hidden = true };
        var outFile = Given.Option<string?>("--out", "FILE", "The file to write; in the data folder when not given.");
        var command = new Command("new", "Write a process sheet to edit: a copy, or one for home-made strips.")
        {
            key, from, patches, steps, increment, status, reflection, name, layout, mark, replace, outFile, OutFile.Force,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var origin = (parsed.GetValue(patches), parsed.GetValue(steps), parsed.GetValue(from)) switch
            {
                (null, null, var source) when parsed.GetValue(status) is null && !parsed.GetValue(reflection)
                    && parsed.GetValue(increment) is null => new SheetOrigin.CopyOf(source),
                ({ } list, null, null) => new SheetOrigin.Patches(Split(list)),
                (null, { } count, null) => (SheetOrigin)new SheetOrigin.Wedge(count, parsed.GetValue(increment)
                    ?? throw new BenchException("A wedge needs --increment, the log exposure from step to step, such as 0.15.")),
                _ => throw new BenchException(
                    "Give one of --from to copy a sheet, --patches for a home-made strip, or --steps with --increment for a wedge; "
                    + "--status and --reflection go with the last two."),
            };
            var request = new SheetRequest(parsed.GetRequiredValue(key), origin)
            {
                Name = parsed.GetValue(name),
                Status = Status(parsed.GetValue(status)),
                IsReflection = parsed.GetValue(reflection),
                Layout = parsed.GetValue(layout),
                Marks = [.. (parsed.GetValue(mark) ?? []).Select(Mark)],
                File = parsed.GetValue(outFile),
                Replace = parsed.GetValue(replace) || parsed.GetValue(OutFile.Force),
            };
            var (sheet, file) = await new SheetDrafting(Common.Processes(parsed)).WriteAsync(request, cancellationToken);
            surroundings.Out.Line(Next(sheet, file));
            return ExitCode.Done;
        });
        return command;
    }

    private static string Next(ProcessSheet sheet, string file)
    {
        var limits = sheet.Parameters.All(p => p.HasLimits)
            ? "Put in the limits of the sheet packed with your strips where they differ, and name it as the source"
            : "Fill in lower and upper of action and control from the sheet packed with your strips, name it as the source, and leave "
                + "null what it does not give";
        return $"{file} written. {limits}. Then prove it: acquire process check {file}";
    }

    private static (string Patch, int Place) Mark(string mark)
    {
        var parts = mark.Split('=', StringSplitOptions.TrimEntries);
        return parts.Length == 2 && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var place)
            ? (parts[0], place)
            : throw new BenchException(
                $"Cannot read --mark {mark}; expected a patch and its place on the strip, counted from 1, as in ld=4.");
    }

    private static ImmutableArray<string> Split(string list) =>
        [.. list.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];

    private static DensityStatus Status(string? text) => text?.ToUpperInvariant() switch
    {
        null or "M" => DensityStatus.M,
        "A" => DensityStatus.A,
        "VISUAL" => DensityStatus.Visual,
        _ => throw new BenchException($"'{text}' is no density status; expected M, A or visual."),
    };
}
