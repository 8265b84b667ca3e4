"""Orders that change others, freight, holidays, price breaks."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('materials', '0008_compatibility'),
        ('projects', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='orderevent',
            name='order_event_kind',
        ),
        migrations.RemoveConstraint(
            model_name='sentorder',
            name='order_sent_once',
        ),
        migrations.AddField(
            model_name='price',
            name='breaks',
            field=models.JSONField(blank=True, default=list),
        ),
        migrations.AddField(
            model_name='price',
            name='minimum_packs',
            field=models.PositiveIntegerField(default=1),
        ),
        migrations.AddField(
            model_name='purchaseorder',
            name='changes',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='changed_by', to='materials.purchaseorder'),
        ),
        migrations.AddField(
            model_name='purchaseorder',
            name='freight_cents',
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name='sentorder',
            name='about',
            field=models.CharField(default='order', max_length=12),
        ),
        migrations.AddField(
            model_name='supplier',
            name='freight_cents',
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name='supplier',
            name='holidays',
            field=models.JSONField(blank=True, default=list),
        ),
        migrations.AddConstraint(
            model_name='orderevent',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', ['issued', 'acknowledged', 'part delivered', 'closed', 'cancelled', 'changed'])), name='order_event_kind'),
        ),
        migrations.AddConstraint(
            model_name='price',
            constraint=models.CheckConstraint(condition=models.Q(('minimum_packs__gte', 1)), name='price_minimum_packs'),
        ),
        migrations.AddConstraint(
            model_name='purchaseorder',
            constraint=models.UniqueConstraint(condition=models.Q(('changes__isnull', False)), fields=('changes',), name='order_changed_once'),
        ),
        migrations.AddConstraint(
            model_name='purchaseorder',
            constraint=models.CheckConstraint(condition=models.Q(('freight_cents__gte', 0)), name='order_freight'),
        ),
        migrations.AddConstraint(
            model_name='sentorder',
            constraint=models.UniqueConstraint(fields=('order', 'to', 'about'), name='order_sent_once'),
        ),
        migrations.AddConstraint(
            model_name='sentorder',
            constraint=models.CheckConstraint(condition=models.Q(('about__in', ['order', 'cancellation'])), name='order_sent_about'),
        ),
        migrations.AddConstraint(
            model_name='supplier',
            constraint=models.CheckConstraint(condition=models.Q(('freight_cents__gte', 0)), name='supplier_freight'),
        ),
        migrations.AddField(
            model_name='deliveryline',
            name='price_cents',
            field=models.BigIntegerField(blank=True, null=True),
        ),
        migrations.AddConstraint(
            model_name='deliveryline',
            constraint=models.CheckConstraint(condition=models.Q(('price_cents__isnull', True), ('price_cents__gte', 0), _connector='OR'), name='delivery_line_price'),
        ),
    ]
