#:property PublishAot=false
#:property JsonSerializerIsReflectionEnabledByDefault=true
#:property TreatWarningsAsErrors=false
#:property ManagePackageVersionsCentrally=false
#:property RestorePackagesWithLockFile=false
#:package KubernetesClient@21.0.8
// Reads manifests as Kubernetes' own types, and refuses a member that they do not have:   dotnet run deploy/check.cs -- FILE…
using k8s;

var failed = 0;
foreach (var file in args)
{
    try
    {
        var objects = KubernetesYaml.LoadAllFromString(File.ReadAllText(file), strict: true);
        Console.WriteLine($"{Path.GetFileName(file)}: {string.Join(", ", objects.Select(o => o.GetType().Name))}");
    }
    catch (Exception e) when (e is YamlDotNet.Core.YamlException or InvalidOperationException or System.Text.Json.JsonException)
    {
        Console.Error.WriteLine($"{Path.GetFileName(file)}: {e.Message} {e.InnerException?.Message}");
        failed++;
    }
}

return failed;
