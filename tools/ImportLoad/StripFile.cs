namespace ImportLoad;

/// <summary>
/// A file of strips with a row per read, in the columns that need no map. Five patches, three reads each; the numbers are invented.
/// </summary>
internal static class StripFile
{
    private const int Reads = 3;

    private static readonly (string Patch, double Red, double Green, double Blue)[] Patches =
        [("dmin",
            0.26,
            0.62,
            0.80), ("ld", 0.46, 0.84, 1.04), ("hd", 1.26, 1.74, 2.00), ("dmax", 2.12, 2.58, 2.92), ("yellow", 0.37, 0.88, 2.72)];

    public static async Task WriteAsync(string file, int reads, CancellationToken cancellationToken)
    {
        var chance = new Random(2417);
        var time = new DateTime(2001, 1, 1, 18, 30, 0, DateTimeKind.Unspecified);
        await using var text = new StreamWriter(file);
        await text.WriteLineAsync("strip,processed_at,lot,line,bottle,patch,read,red,green,blue");
        for (int written = 0, strip = 1; written < reads; strip++, time = time.AddHours(1))
        {
            cancellationToken.ThrowIfCancellationRequested();
            foreach (var (patch, red, green, blue) in Patches)
            {
                for (var read = 1; read <= Reads && written < reads; read++, written++)
                {
                    await text.WriteLineAsync(string.Create(
                        CultureInfo.InvariantCulture,
                        $"S{strip},{time:yyyy-MM-dd HH:mm},2417,dip "
                        + $"tank,D{strip / 40},{patch},{read},{Near(red):0.00},{Near(green):0.00},{Near(blue):0.00}"));
                }
            }
        }

        double Near(double density) => density + (0.03 * (chance.NextDouble() - 0.5));
    }
}
