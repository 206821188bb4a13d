// Kills the program at random instants, looks into the store with a reader that is not its own, and counts.
// usage: KillTrials [READING-RUNS [UPGRADE-RUNS [BACKUP-RUNS [SEED]]]]
using KillTrials;

var numbers = args.Select(a => int.Parse(a, CultureInfo.InvariantCulture)).ToList();
int Number(int place, int usual) => place < numbers.Count ? numbers[place] : usual;
var seed = Number(3, 1);
var folder = Directory.CreateTempSubdirectory("acquire-kill-trials-").FullName;
try
{
    Tally[] tallies =
    [
        await Counted(new ReadingTrials(Path.Combine(folder, "reading"), seed).RunAsync(Number(0, 240), CancellationToken.None)),
        await Counted(new CopyTrials(folder, seed).UpgradeAsync(Number(1, 50), CancellationToken.None)),
        await Counted(new CopyTrials(folder, seed).BackUpAsync(Number(2, 50), CancellationToken.None)),
    ];
    return tallies.All(t => t.Wrong.Count == 0) ? 0 : 1;
}
finally
{
    Directory.Delete(folder, recursive: true);
}

static async Task<Tally> Counted(Task<Tally> running)
{
    var tally = await running;
    Console.WriteLine(tally);
    foreach (var wrong in tally.Wrong)
    {
        Console.WriteLine($"  {wrong}");
    }

    return tally;
}
