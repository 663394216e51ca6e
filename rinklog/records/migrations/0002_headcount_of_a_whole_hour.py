from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0001_records")]

    operations = [
        migrations.AddField(model_name="headcount", name="whole", field=models.BooleanField(default=False)),
    ]
